import { useMemo } from 'preact/hooks';
import { clients, kit, openVisit, type VisitCard } from '../lib';
import type { AnswerGiven } from '../lib/model.gen';
import { itemOf } from '../lib/records/item-of';
import * as v from '../lib/schema';
import { answerWords } from './answer';
import { findItem, links } from './visit/links';
import { timeWords } from './words';

/** What is known of an entry that does not count. */
export interface EntryAboutProps {
  /** The client, visit or control that it names. */
  readonly subject: string;
  /** The item of the checklist that it is about. */
  readonly item?: string | undefined;
  readonly answer?: AnswerGiven | undefined;
}

/** What an entry is about, with the way there: the client, the visit and the item, or the control; nothing where this device does not have them. */
export function EntryAbout(props: EntryAboutProps) {
  const { subject } = props;
  const control = kit.value.find((one) => one.id === subject);
  if (control !== undefined)
    return (
      <p>
        About{' '}
        <a class="link-row" href={links.kitControl(subject)}>
          {control.name}
        </a>
      </p>
    );
  const card = clients.value.find((one) => one.id === subject || one.visits.some((visit) => visit.id === subject));
  if (card === undefined) return null;
  const visit = card.visits.find((one) => one.id === subject);
  return (
    <p>
      About{' '}
      <a class="link-row" href={links.client(card.id)}>
        {card.name}
      </a>
      {visit === undefined ? null : (
        <>
          ,{' '}
          <a class="link-row" href={links.map(subject)}>
            visit of {timeWords(visit.startedAt)}
          </a>
        </>
      )}
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
      ,{' '}
      <a class="link-row" href={links.item(visit.id, found.code, found.item.id)}>
        {found.item.title}
      </a>
      {answer ? `: ${answerWords(found.item, view.checklist, answer)}${answer.note ? `, with the note “${answer.note}”` : ''}` : ''}
    </>
  );
}

const answerSaid = v.object({
  item: v.string,
  state: v.string,
  level: v.optional(v.string),
  number: v.optional(v.number),
  left: v.optional(v.number),
  right: v.optional(v.number),
  reason: v.optional(v.string),
  note: v.optional(v.string),
});
const entrySaid = v.object({ at: v.fallback(v.string, ''), subject: v.fallback(v.string, '') });

interface EntrySaid {
  readonly at: string;
  readonly subject: string;
  readonly item: string;
  readonly answer: AnswerGiven | undefined;
}

/** What an entry says of itself; nothing where it cannot be read. */
export function saidBy(raw: string): EntrySaid | undefined {
  try {
    const entry = JSON.parse(raw) as { readonly body?: unknown };
    const said = v.tryParse(entrySaid, entry);
    return said && { ...said, item: itemOf(entry.body), answer: v.tryParse(answerSaid, entry.body) };
  } catch {
    return undefined;
  }
}

/** What an entry is about by its own bytes. */
export function RawEntryAbout(props: { readonly raw: string }) {
  const said = saidBy(props.raw);
  return said === undefined ? null : <EntryAbout subject={said.subject} item={said.item} answer={said.answer} />;
}
