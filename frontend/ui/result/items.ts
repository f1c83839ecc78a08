import type { ItemResult, Result } from '../../lib/model.gen';

const byResult = new WeakMap<Result, ReadonlyMap<string, ItemResult>>();

/** What stands for one item of the checklist; undefined where the result does not speak of it. */
export function itemIn(result: Result | null | undefined, id: string): ItemResult | undefined {
  if (!result) return undefined;
  let items = byResult.get(result);
  if (!items) {
    items = new Map(result.items.map((one) => [one.id, one]));
    byResult.set(result, items);
  }
  return items.get(id);
}
