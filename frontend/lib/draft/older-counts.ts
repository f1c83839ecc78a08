import { formRow } from './form-drafts';

/** The key of a count as versions before this one kept it: a row for each, with the id of the item in clear. */
const olderKey = /^(count|time)\/([^/]+)\/(.+)$/;

export interface OlderCount {
  /** The row that it had. */
  readonly key: string;
  /** The row of the drafts that it belongs to now. */
  readonly row: string;
  /** Its name among them, and the draft. */
  readonly name: string;
  readonly draft: { readonly value: unknown; readonly before: null; readonly title: string; readonly path: string };
}

/** Counts in rows of their own, as drafts about their visits. */
export function olderCounts(rows: ReadonlyMap<string, unknown>): readonly OlderCount[] {
  return [...rows].flatMap(([key, value]) => {
    const [, what, visit, item] = olderKey.exec(key) ?? [];
    if (what === undefined || visit === undefined || item === undefined) return [];
    const title = what === 'count' ? 'A count by touch' : 'A time by touch';
    return [{ key, row: formRow(visit), name: `count:${what} ${item}`, draft: { value, before: null, title, path: `/visits/${visit}` } }];
  });
}
