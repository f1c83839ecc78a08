/** Where to go on: the next item that nobody answered, and any item by a word of it. */
import type { Definition, Item } from '../../lib';
import type { Result, Visit } from '../../lib/model.gen';
import { standingOf } from './progress';

/** An item and the part that it stands in. */
export interface Placed {
  readonly part: string;
  readonly item: Item;
}

function placed(checklist: Definition): readonly Placed[] {
  return checklist.sections.flatMap((section) => section.items.map((item) => ({ part: section.code, item })));
}

/** Items that are answered by a tap and are not, in the order of the checklist. What is worked out is measured elsewhere. */
export function openItems(checklist: Definition, visit: Visit, result: Result | null): readonly Placed[] {
  return placed(checklist).filter(({ item }) => item.from === undefined && standingOf(item, visit, result) === 'not-tested');
}

/**
 * The next of the open items: after the one that was answered last, else from the
 * beginning of the part that is shown, and then round through all others.
 */
export function nextOpen(checklist: Definition, open: readonly Placed[], part: string, after: string): Placed | undefined {
  const order = placed(checklist);
  const last = order.findIndex((one) => one.item.id === after && one.part === part);
  const from = last >= 0 ? last : order.findIndex((one) => one.part === part) - 1;
  const place = (one: Placed) => {
    const at = order.findIndex((each) => each.item.id === one.item.id);
    // What stands before comes after all that follows; of the part that is shown nothing is left behind.
    return at > from ? at : at + order.length * (one.part === part ? 0.5 : 1);
  };
  const here = open.filter((one) => one.part === part);
  return (here.length > 0 ? here : open).toSorted((a, b) => place(a) - place(b))[0];
}

/** Items with all words that were typed, those with one at the beginning of their title first. */
export function findItems(checklist: Definition, typed: string): readonly Placed[] {
  const words = typed.toLowerCase().split(/\s+/).filter(Boolean);
  const rank = ({ item }: Placed) => (words.some((word) => item.title.toLowerCase().startsWith(word)) ? 0 : 1);
  return placed(checklist)
    .filter(({ item }) => words.every((word) => `${item.title} ${item.prompt}`.toLowerCase().includes(word)))
    .toSorted((a, b) => rank(a) - rank(b));
}
