import { Banner } from '..';
import type { VisitView } from '../../lib';
import type { Message } from '../../lib/model.gen';
import { sentenceOf } from '../words';
import { findItem, links } from './links';

/** The item that a message is about. */
function itemOf(message: Message): string {
  const item = message.args?.['item'];
  return typeof item === 'string' ? item : '';
}

/** Whether a note says that an answer and what was measured or chosen do not agree. */
function contradicts(note: Message): boolean {
  return note.code.startsWith('passage.conflict') || note.code === 'readiness.applies';
}

/** Answers that a measured place or the chosen control contradicts, with both ways out; the worse counts until then. */
export function WhichCounts(props: { readonly view: VisitView; readonly item?: string }) {
  const { visit, result, checklist } = props.view;
  const said = (result?.notes ?? []).filter((note) => contradicts(note) && (props.item === undefined || itemOf(note) === props.item));
  if (said.length === 0) return null;
  return (
    <Banner tone="caution" title="Which counts?">
      <ul class="plain-list">
        {said.map((note) => {
          const found = props.item === undefined ? findItem(checklist, itemOf(note)) : undefined;
          return (
            <li key={sentenceOf(note)}>
              <p>{sentenceOf(note)}</p>
              {found ? (
                <a class="link-row" href={links.item(visit.id, found.code, found.item.id)}>
                  Correct the answer
                </a>
              ) : null}{' '}
              {note.code === 'readiness.applies' ? null : (
                <a class="link-row" href={links.home(visit.id)}>
                  Measure the place again
                </a>
              )}
            </li>
          );
        })}
      </ul>
    </Banner>
  );
}
