/** What stood at the visit before: offered, dashed, and not an answer until somebody touches it. */
import { useMemo } from 'preact/hooks';
import { signal } from '@preact/signals';
import { bare, headsOf, levelChoices, outOfRange } from '../../ui/answer';
import { drafts, onPersonLeft, openClient, openVisit, type Definition, type Item, type VisitCard, type VisitView } from '../../lib';
import type { AnswerGiven, Visit } from '../../lib/model.gen';

/** The latest signed visit of the client before this one that this person may see; a second rating is of the same trial. */
export function visitBefore(cards: readonly VisitCard[], visit: Pick<Visit, 'id' | 'started'>): VisitCard | undefined {
  return cards
    .filter(
      (card) => card.id !== visit.id && !card.blind && card.secondOf === '' && card.signedAt !== '' && card.startedAt < visit.started.at,
    )
    .toSorted((a, b) => (a.startedAt < b.startedAt ? 1 : -1))[0];
}

/**
 * The answer of the visit before as it can be given to the item of today: none where two
 * stood, where it had to be given anew, or where the item no longer has such an answer.
 * Its note was about that day and is left out.
 */
export function offerOf(item: Item, checklist: Definition, before: Visit): AnswerGiven | undefined {
  const heads = headsOf(before, item.id);
  const [head] = heads;
  if (heads.length !== 1 || head === undefined || head.due || item.from !== undefined) return undefined;
  const { note: _note, facts, ...answer } = bare(head, item.id);
  if (answer.state === 'not-applicable') return item.na ? { ...answer, method: 'as-last-visit' } : undefined;
  if (answer.state !== 'answered' || !fits(item, checklist, answer)) return undefined;
  const asked = Object.entries(facts ?? {}).filter(([fact]) => item.asks?.some((ask) => ask.fact === fact));
  return { ...answer, ...(asked.length > 0 ? { facts: Object.fromEntries(asked) } : {}), method: 'as-last-visit' };
}

function fits(item: Item, checklist: Definition, answer: AnswerGiven): boolean {
  const choices = levelChoices(item, checklist);
  if (choices.length > 0) return choices.some((one) => one.value === answer.level);
  const numbers = item.sides ? [answer.left, answer.right] : [answer.number];
  return numbers.every((one) => one !== undefined && outOfRange(item, one) === undefined);
}

/** Whether an answer says what the offer says. */
export function isAsOffered(offer: AnswerGiven | undefined, answer: AnswerGiven): boolean {
  return (
    offer !== undefined &&
    offer.state === answer.state &&
    offer.level === answer.level &&
    offer.number === answer.number &&
    offer.left === answer.left &&
    offer.right === answer.right
  );
}

const shownParts = signal<ReadonlyMap<string, boolean>>(new Map());
onPersonLeft(() => {
  shownParts.value = new Map();
});

const keyOf = (visit: string, part: string) => `as-last-visit/${visit}/${part}`;

/** Whether the answers of the visit before are shown in a part; it stays so when the page goes. */
export function isOffering(visit: string, part: string): boolean {
  return shownParts.value.get(keyOf(visit, part)) ?? drafts.load(keyOf(visit, part)) === true;
}

export function setOffering(visit: string, part: string, on: boolean): void {
  const key = keyOf(visit, part);
  shownParts.value = new Map([...shownParts.value, [key, on]]);
  if (on) drafts.keep(key, true);
  else drafts.drop(key);
}

/** The visit before, when it is on this tablet and read. */
export function useVisitBefore(visit: Visit): VisitView | null {
  const client = useMemo(() => openClient(visit.client), [visit.client]).value;
  const id = client === null ? '' : (visitBefore(client.visits, visit)?.id ?? '');
  const view = useMemo(() => (id === '' ? null : openVisit(id)), [id]);
  return view?.value ?? null;
}
