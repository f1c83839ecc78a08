/**
 * What is typed, chosen or asked on a screen and is no entry yet, by what it is
 * about. It is kept encrypted on the tablet, so that a lock, the way back, a closed
 * tab or a killed browser takes at most the last moment of it, and each form finds
 * its own again. It is dropped once it is what is saved, or thrown away.
 */
import { signal, type ReadonlySignal, type Signal } from '@preact/signals';
import * as v from '../schema';
import type { FormDraft, FormDrafts } from './form-draft';
import { createElsewhere } from './elsewhere';
import { beside, holds, mergeTabs, withChanges } from './tabs';

export type { FormDraft, FormDrafts } from './form-draft';

/** Where drafts lie: encrypted on the tablet; a test gives a plain map. */
export interface DraftRows {
  readonly keys: () => readonly string[];
  readonly load: (key: string) => unknown;
  /** Changes what lies there at that moment, also where another tab wrote it; undefined takes the row away. */
  readonly change: (key: string, how: (row: unknown) => unknown) => void;
}

/** A timer, for tests. */
export interface Timers {
  readonly set: (run: () => void, ms: number) => unknown;
  readonly clear: (timer: unknown) => void;
}

export interface FormDraftStore {
  /** What stands in the forms about a client, a visit or a control, by the form's name. */
  readonly of: (about: string) => ReadonlySignal<FormDrafts>;
  /** Shown at once and written within a moment; `undefined` takes it away. */
  readonly put: (about: string, name: string, draft: FormDraft | undefined) => void;
  /** The fields of a draft in which another tab types: that tab saves them. By their names, as `fieldsApart` has them. */
  readonly elsewhere: (about: string, name: string) => ReadonlySet<string>;
  /** What this tab had of a draft is saved: what another tab types in it stays there. */
  readonly saved: (about: string, name: string, value: unknown) => void;
  /** Everything that has a title and is not saved. */
  readonly begun: () => readonly (FormDraft & { readonly about: string; readonly name: string })[];
  /** A row became another one than this tab wrote: another tab wrote it too. */
  readonly reread: (key: string) => void;
  /** Writes what waits: the page is left or locked. */
  readonly flush: () => void;
  /** Forgets what is in memory: the tablet was locked, or somebody else is at it. */
  readonly forget: () => void;
}

/** How long what was typed may wait before it is written, in milliseconds: a write for each key would slow the typing. */
const WRITE_WITHIN = 300;

/** What somebody typed, and where they were: the one is unsaved work, the other is not. */
export const formRow = (about: string): string => `form:${about}`;
const placeRow = (about: string): string => `at:${about}`;

/** Whether a row only says where somebody was on a screen. */
export const isPlaceRow = (key: string): boolean => key.startsWith('at:');

const draftSchema: v.Schema<FormDraft> = v.object({
  value: v.unknown,
  before: v.optional(v.unknown),
  title: v.optional(v.string),
  path: v.optional(v.string),
  others: v.fallback(v.optional(v.list(v.unknown)), undefined),
  shared: v.fallback(v.optional(v.boolean), undefined),
});

function readRow(row: unknown): FormDrafts {
  if (typeof row !== 'object' || row === null || Array.isArray(row)) return {};
  const read = Object.entries(row).map(([name, value]) => [name, v.tryParse(draftSchema, value)] as const);
  return Object.fromEntries(read.filter((one): one is [string, FormDraft] => one[1] !== undefined));
}

const chosen = (drafts: FormDrafts, titled: boolean): FormDrafts =>
  Object.fromEntries(Object.entries(drafts).filter(([, one]) => (one.title !== undefined) === titled));

const orNothing = (drafts: FormDrafts): FormDrafts | undefined => (Object.keys(drafts).length > 0 ? drafts : undefined);

/** Whether changes touch those that have a title, or those that have none. */
const touches = (base: FormDrafts, changed: ReadonlyMap<string, FormDraft | undefined>, titled: boolean): boolean =>
  [...changed].some(([name, draft]) => [draft, base[name]].some((one) => one !== undefined && (one.title !== undefined) === titled));

/**
 * A draft with what other tabs have there, unless it says so itself; an empty list
 * says that nothing is left. Where it is taken away, what they have stands there.
 */
function withOthers(draft: FormDraft | undefined, before: FormDraft): FormDraft | undefined {
  const others = draft?.others ?? before.others ?? [];
  if (draft !== undefined) return { ...draft, others: others.length > 0 ? others : undefined };
  return others.length > 0 ? withOthers({ ...before, value: others[0], others: others.slice(1) }, before) : undefined;
}

/** What lies in the rows about something. */
const storedIn = (rows: Pick<DraftRows, 'load'>, about: string): FormDrafts => ({
  ...readRow(rows.load(placeRow(about))),
  ...readRow(rows.load(formRow(about))),
});

/** Writes changes of this tab to what it knew as `base` over what lies there. */
function writeChanges(rows: DraftRows, about: string, base: FormDrafts, changed: ReadonlyMap<string, FormDraft | undefined>): void {
  for (const titled of [true, false].filter((one) => touches(base, changed, one)))
    rows.change(titled ? formRow(about) : placeRow(about), (row) => orNothing(chosen(mergeTabs(base, changed, readRow(row)), titled)));
}

const aboutOf = (key: string): string | undefined => /^form:(.*)$/s.exec(key)?.[1];

/** What the rows of unsaved work are about. */
const aboutsIn = (rows: Pick<DraftRows, 'keys'>): readonly string[] => rows.keys().flatMap((key) => aboutOf(key) ?? []);

/** Runs work once, a moment after it was first asked for. */
function createLater(timers: Timers, work: () => void) {
  let timer: unknown;
  return {
    start: (): void => {
      timer ??= timers.set(work, WRITE_WITHIN);
    },
    stop: (): void => {
      timers.clear(timer);
      timer = undefined;
    },
  };
}

export function createFormDrafts(rows: DraftRows, timers: Timers): FormDraftStore {
  const open = new Map<string, Signal<FormDrafts>>();
  /** What this tab put itself since it was last written, by what it is about and name. */
  const waiting = new Map<string, Map<string, FormDraft | undefined>>();
  /** What stands in the row, as far as this tab knows. */
  const known = new Map<string, FormDrafts>();
  const elsewhere = createElsewhere();
  /** Counts changes, so that what lists all drafts is drawn again. */
  const turn = signal(0);
  const later = createLater(timers, () => flush());

  const opened = (about: string): Signal<FormDrafts> => {
    const found = open.get(about);
    if (found !== undefined) return found;
    const row = storedIn(rows, about);
    const drafts = signal(row);
    known.set(about, row);
    open.set(about, drafts);
    return drafts;
  };

  const flush = (): void => {
    later.stop();
    for (const [about, changed] of waiting) {
      const base = known.get(about) ?? {};
      known.set(about, withChanges(base, changed));
      writeChanges(rows, about, base, changed);
    }
    waiting.clear();
  };

  const put: FormDraftStore['put'] = (about, name, draft) => {
    const drafts = opened(about);
    const { [name]: before, ...others } = drafts.peek();
    if (draft === undefined && before === undefined) return;
    const next = before === undefined ? draft : withOthers(draft, before);
    elsewhere.touched(`${about} ${name}`, before, draft);
    drafts.value = next === undefined ? others : { ...others, [name]: next };
    turn.value += 1;
    waiting.set(about, (waiting.get(about) ?? new Map()).set(name, next));
    later.start();
  };

  /** Takes in what other tabs wrote. Where somebody is on a screen is a tab's own. */
  const takeIn = (about: string): void => {
    const [drafts, row, changed] = [opened(about), readRow(rows.load(formRow(about))), waiting.get(about)];
    const [here, base] = [drafts.peek(), known.get(about) ?? {}];
    const next = beside(elsewhere.asIn(about, chosen(here, true), row), base, row, {
      typed: (name) => elsewhere.typed.has(`${about} ${name}`),
      gone: (name) => changed?.get(name) === undefined && changed?.has(name) === true,
    });
    known.set(about, { ...chosen(base, false), ...row });
    drafts.value = { ...chosen(here, false), ...next };
    for (const [name, draft] of Object.entries(next)) {
      elsewhere.arrived(`${about} ${name}`, here[name], draft);
      if (changed?.has(name)) changed.set(name, draft);
      // What another tab took away or wrote over while somebody types it here is written again.
      else if (!holds(row[name], draft.value)) put(about, name, draft);
    }
  };

  return {
    of: opened,
    put,
    elsewhere: (about, name) => elsewhere.fields(`${about} ${name}`),
    saved: (about, name, value) => {
      put(about, name, elsewhere.left(`${about} ${name}`, opened(about).peek()[name], value));
      elsewhere.typed.delete(`${about} ${name}`);
    },
    reread: (key) => {
      const about = aboutOf(key);
      turn.value += 1;
      if (about !== undefined && open.has(about)) takeIn(about);
    },
    begun: () => {
      void turn.value;
      const abouts = new Set([...open.keys(), ...aboutsIn(rows)]);
      return [...abouts].flatMap((about) =>
        Object.entries(chosen(opened(about).value, true)).map(([name, one]) => ({ ...one, about, name })),
      );
    },
    flush,
    forget: () => {
      later.stop();
      for (const all of [waiting, known, open]) all.clear();
      elsewhere.forget();
      turn.value += 1;
    },
  };
}
