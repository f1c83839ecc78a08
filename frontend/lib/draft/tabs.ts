/** What becomes of drafts that several tabs of one person write. */
import type { FormDraft, FormDrafts } from './form-draft';
import { apart, isFields, merge, same } from './merge';

type Changes = ReadonlyMap<string, FormDraft | undefined>;

/** What stands after changes that nobody else made any beside. */
export function withChanges(base: FormDrafts, changes: Changes): FormDrafts {
  const all = [...Object.entries(base).filter(([name]) => !changes.has(name)), ...changes];
  return Object.fromEntries(all.filter((one): one is [string, FormDraft] => one[1] !== undefined));
}

/** Changes of this tab to what it knew as `base`, written over what lies there now. */
export function mergeTabs(base: FormDrafts, changes: Changes, now: FormDrafts): FormDrafts {
  return withChanges(now, new Map([...changes].map(([name, mine]) => [name, mergeOne(base[name], mine, now[name])])));
}

function mergeOne(base: FormDraft | undefined, mine: FormDraft | undefined, now: FormDraft | undefined): FormDraft | undefined {
  if (now === undefined || now.shared || mine?.shared || (mine !== undefined && mine.title === undefined)) return mine;
  if (mine !== undefined) return besides(mine, base, now);
  // Saved or thrown away here. What another tab has there is not this.
  const left = without([now.value, ...(now.others ?? [])], base === undefined ? [] : [base.value]);
  const [value, ...others] = left;
  return left.length === 0 ? undefined : { ...now, value, others: orNone(others) };
}

/**
 * What this tab has, beside what lies there: fields that only one of them changed are
 * taken together, and where both changed the same both are kept.
 */
function besides(mine: FormDraft, base: FormDraft | undefined, now: FormDraft | undefined): FormDraft {
  if (now === undefined) return mine;
  const own = [mine.value, ...(base === undefined ? [] : [base.value])];
  if (same(now.value, base?.value) && same(now.others, base?.others)) return mine;
  if (same(now.value, mine.value)) return { ...mine, others: orNone(without(now.others ?? [], own)) };
  if (isFields(mine.value) && isFields(now.value) && !apart(mine.before, mine.value, now.value))
    return { ...mine, value: merge(mine.before, mine.value, now.value), others: orNone(without(now.others ?? [], own)) };
  return { ...mine, others: orNone(without([now.value, ...(now.others ?? [])], own)) };
}

/**
 * What a tab shows once a row became another: what is typed there stays, with what
 * other tabs have beside it, and the rest is as the row says. `gone` was taken away
 * here and is not written yet.
 */
export function beside(
  here: FormDrafts,
  base: FormDrafts,
  row: FormDrafts,
  own: { readonly typed: (name: string) => boolean; readonly gone: (name: string) => boolean },
): FormDrafts {
  const names = [...new Set([...Object.keys(here), ...Object.keys(row)])].filter((name) => !own.gone(name));
  const next = names.map((name) => {
    const mine = here[name];
    const typed = mine !== undefined && !mine.shared && own.typed(name);
    return [name, typed ? besides(mine, base[name], row[name]) : row[name]] as const;
  });
  return Object.fromEntries(next.filter((one): one is [string, FormDraft] => one[1] !== undefined));
}

/** Whether a row has a value, as its own or as another tab's. */
export function holds(row: FormDraft | undefined, value: unknown): boolean {
  return row !== undefined && [row.value, ...(row.others ?? [])].some((one) => same(one, value));
}

/** Values of a list, each once, that are none of these. */
function without(list: readonly unknown[], these: readonly unknown[]): readonly unknown[] {
  return list.filter((one, at) => ![...these, ...list.slice(0, at)].some((other) => same(one, other)));
}

const orNone = (list: readonly unknown[]) => (list.length > 0 ? list : undefined);
