import { useMemo } from 'preact/hooks';
import { clients, openVisit, type VisitCard } from '../lib';
import type { AnswerGiven } from '../lib/model.gen';
import { answerWords } from './answer';
import { findItem, links } from './visit/links';
import { timeWords } from './words';

/** What is known of an entry that does not count. */
export interface EntryAboutProps {
  /** The client or visit that it names. */
  readonly subject: string;
  /** The item that it answers. */
  readonly item?: string | undefined;
  readonly answer?: AnswerGiven | undefined;
}

/** Which client, visit and item an entry is about, with the way there; nothing where this device does not have them. */
export function EntryAbout(props: EntryAboutProps) {
  const { subject } = props;
  const card = clients.value.find((one) => one.id === subject || one.visits.some((visit) => visit.id === subject));
  if (card === undefined) return null;
  const visit = card.visits.find((one) => one.id === subject);
  return (
    <p>
      <a class="link-row" href={visit ? links.map(visit.id) : links.client(card.id)}>
        {card.name}
        {visit ? `, visit of ${timeWords(visit.startedAt)}` : ''}
      </a>
      {visit && props.item ? <ItemOf visit={visit} item={props.item} answer={props.answer} /> : null}
    </p>
  );
}

function ItemOf(props: { readonly visit: VisitCard; readonly item: string; readonly answer: AnswerGiven | undefined }) {
  const { visit, answer } = props;
  const view = useMemo(() => openVisit(visit.id), [visit.id]).value;
  const found = view ? findItem(view.checklist, props.item) : undefined;
  if (!view || !found) return null;
  return (
    <>
      {' '}
      <a class="link-row" href={links.item(visit.id, found.code, found.item.id)}>
        {found.item.title}
      </a>
      {answer ? `: ${answerWords(found.item, view.checklist, answer)}${answer.note ? `, with the note “${answer.note}”` : ''}` : ''}
    </>
  );
}
