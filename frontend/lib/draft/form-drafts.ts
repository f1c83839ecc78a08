/**
 * What is typed, chosen or asked on a screen and is no entry yet, by what it is
 * about. It is kept encrypted on the tablet, so that a lock, the way back, a closed
 * tab or a killed browser takes at most the last moment of it, and each form finds
 * its own again. It is dropped once it is what is saved, or thrown away.
 */
import { signal, type ReadonlySignal, type Signal } from '@preact/signals';
import * as v from '../schema';

/** What stands in one form, field or dialog. */
export interface FormDraft {
  readonly value: unknown;
  /** What was saved when somebody began to change it. */
  readonly before: unknown;
  /** What it is, for the person who left it; without it, it is only where one was. */
  readonly title?: string | undefined;
  /** The address of its screen. */
  readonly path?: string | undefined;
}

export type FormDrafts = Readonly<Record<string, FormDraft>>;

/** Where drafts lie: encrypted on the tablet; a test gives a plain map. */
export interface DraftRows {
  readonly keys: () => readonly string[];
  readonly load: (key: string) => unknown;
  readonly keep: (key: string, value: unknown) => void;
  readonly drop: (key: string) => void;
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
  /** Everything that has a title and is not saved. */
  readonly begun: () => readonly (FormDraft & { readonly about: string; readonly name: string })[];
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

const draftSchema = v.object({
  value: v.unknown,
  before: v.optional(v.unknown),
  title: v.optional(v.string),
  path: v.optional(v.string),
});

function readRow(row: unknown): FormDrafts {
  if (typeof row !== 'object' || row === null || Array.isArray(row)) return {};
  const read = Object.entries(row).map(([name, value]) => [name, v.tryParse(draftSchema, value)] as const);
  return Object.fromEntries(read.filter((one): one is [string, FormDraft] => one[1] !== undefined));
}

const chosen = (drafts: FormDrafts, titled: boolean): FormDrafts =>
  Object.fromEntries(Object.entries(drafts).filter(([, one]) => (one.title !== undefined) === titled));

export function createFormDrafts(rows: DraftRows, timers: Timers): FormDraftStore {
  const open = new Map<string, Signal<FormDrafts>>();
  const waiting = new Set<string>();
  /** Counts changes, so that what lists all drafts is drawn again. */
  const turn = signal(0);
  let timer: unknown;

  const opened = (about: string): Signal<FormDrafts> => {
    const found = open.get(about);
    if (found !== undefined) return found;
    const drafts = signal({ ...readRow(rows.load(placeRow(about))), ...readRow(rows.load(formRow(about))) });
    open.set(about, drafts);
    return drafts;
  };

  const write = (key: string, drafts: FormDrafts): void => {
    if (Object.keys(drafts).length > 0) rows.keep(key, drafts);
    else rows.drop(key);
  };

  const flush = (): void => {
    timers.clear(timer);
    timer = undefined;
    for (const about of waiting) {
      const drafts = opened(about).peek();
      write(formRow(about), chosen(drafts, true));
      write(placeRow(about), chosen(drafts, false));
    }
    waiting.clear();
  };

  return {
    of: opened,
    put: (about, name, draft) => {
      const drafts = opened(about);
      const { [name]: before, ...others } = drafts.peek();
      if (draft === undefined && before === undefined) return;
      drafts.value = draft === undefined ? others : { ...others, [name]: draft };
      turn.value += 1;
      waiting.add(about);
      timer ??= timers.set(flush, WRITE_WITHIN);
    },
    begun: () => {
      void turn.value;
      const abouts = new Set([
        ...open.keys(),
        ...rows.keys().flatMap((key) => (key.startsWith('form:') ? [key.slice('form:'.length)] : [])),
      ]);
      return [...abouts].flatMap((about) =>
        Object.entries(chosen(opened(about).value, true)).map(([name, draft]) => ({ ...draft, about, name })),
      );
    },
    flush,
    forget: () => {
      timers.clear(timer);
      timer = undefined;
      waiting.clear();
      open.clear();
      turn.value += 1;
    },
  };
}
