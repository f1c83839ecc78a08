/** Which fields of a draft another tab types in: what is half typed there is saved there. */
import type { FormDraft, FormDrafts } from './form-draft';
import { fieldsApart, same, withFieldsOf } from './merge';

type Value = Pick<FormDraft, 'value' | 'before'>;

export interface Elsewhere {
  /** Drafts that somebody typed in this tab: they never go from under their hands. */
  readonly typed: Set<string>;
  /** By their names, as `fieldsApart` has them. */
  readonly fields: (key: string) => ReadonlySet<string>;
  /** A draft became another one in this tab: what was typed here is this tab's. */
  readonly touched: (key: string, before: Value | undefined, next: Value | undefined) => void;
  /** A draft became another one since another tab wrote it. */
  readonly arrived: (key: string, here: Value | undefined, next: FormDraft) => void;
  /** Drafts about something, with what another tab types in them as their row has it, else as it was before. */
  readonly asIn: (about: string, drafts: FormDrafts, row: FormDrafts) => FormDrafts;
  /** What stays of a draft of which this tab's own is saved as `value`. */
  readonly left: (key: string, draft: FormDraft | undefined, value: unknown) => FormDraft | undefined;
  readonly forget: () => void;
}

export function createElsewhere(): Elsewhere {
  const typed = new Set<string>();
  const theirs = new Map<string, ReadonlySet<string>>();
  const keep = (key: string, fields: readonly string[]): void => {
    if (fields.length > 0) theirs.set(key, new Set(fields));
    else theirs.delete(key);
  };
  const fields = (key: string): ReadonlySet<string> => theirs.get(key) ?? new Set();
  return {
    typed,
    fields,
    touched: (key, before, next) => {
      if (next === undefined) typed.delete(key);
      else typed.add(key);
      const had = theirs.get(key);
      if (had === undefined) return;
      const mine = next === undefined ? [...had] : fieldsApart((before ?? next).value, next.value);
      keep(
        key,
        [...had].filter((field) => !mine.includes(field)),
      );
    },
    arrived: (key, here, next) => {
      const mine = here === undefined ? next.before : withFieldsOf(here.value, here.before, fields(key));
      // What all tabs have one of is saved in any.
      keep(key, next.shared ? [] : fieldsApart(mine, next.value));
    },
    asIn: (about, drafts, row) =>
      Object.fromEntries(
        Object.entries(drafts).map(([name, draft]) => {
          const now = row[name] === undefined ? draft.before : row[name].value;
          return [name, { ...draft, value: withFieldsOf(draft.value, now, fields(`${about} ${name}`)) }];
        }),
      ),
    left: (key, draft, value) => {
      const rest = withFieldsOf(value, draft?.value, fields(key));
      return draft === undefined || same(rest, value) ? undefined : { ...draft, before: value, value: rest };
    },
    forget: () => {
      theirs.clear();
      typed.clear();
    },
  };
}
