/** The snapshots of all subjects on this tablet in memory, kept in step with their rows. */
import { batch, computed, signal, type ReadonlySignal, type Signal } from '@preact/signals';
import type { EncryptedStore, HeldEvents } from '../database/encrypted-store';
import { cursorKey, cursorTeam } from '../database/rows';
import { teamOf, type Snapshot } from '../database/snapshot';
import { createFreshRows } from '../database/stale';
import type { Folded } from './folds';
import type { Seen } from './outbox';
import { newerIn, snapshotOf, standingOf, type Standing } from './snapshot';
import { standingOfResult, type StoredResult } from './stored-result';

/** Events of a subject, and how often subjects had been touched when they were asked for. */
export interface ReadEvents extends HeldEvents {
  readonly touches: number;
}

export interface Snapshots {
  readonly all: ReadonlySignal<ReadonlyMap<string, Snapshot>>;
  /** Entries that a newer version of the app wrote. */
  readonly newer: ReadonlySignal<number>;
  /** Subjects with news that is not shown yet. */
  readonly unread: ReadonlySignal<number>;
  /** Subjects that must be folded, as the rows said at the start. */
  readonly stale: readonly string[];
  readonly has: (subject: string) => boolean;
  /** Reads a subject's events from the disk. */
  readonly read: (subject: string) => Promise<ReadEvents>;
  /** Shows a subject as it was folded; its row follows. */
  readonly take: (subject: string, held: ReadEvents, folded: Folded | null, server: StoredResult | undefined) => void;
  /** Shows at once what waits for others to be shown with. */
  readonly show: () => void;
  /** Forgets subjects that were taken off this device; gives those that are here, which are to be folded. */
  readonly touched: (subjects: Iterable<string>) => Promise<readonly string[]>;
  readonly readCursors: () => Promise<void>;
  /**
   * How far the log of a subject's team has been taken in, and is shown of this
   * subject; `body` names the team of a subject that is new.
   */
  readonly seenBy: (subject: string, body: unknown) => Seen;
  /** Resolves when the rows are on the disk. */
  readonly written: () => Promise<void>;
  readonly clear: () => void;
}

/** Lists are computed anew this often while many subjects come in. */
const SHOW_EVERY_MS = 50;

/** Reads the rows. `gone` is told that a subject was taken off this device. */
export async function openSnapshots(store: EncryptedStore, gone: (subject: string) => void): Promise<Snapshots> {
  const { ready, stale } = await store.snapshots();
  const snapshots = createSnapshots(store, gone, ready, stale);
  await snapshots.readCursors();
  return snapshots;
}

function createSnapshots(
  store: EncryptedStore,
  gone: (subject: string) => void,
  ready: ReadonlyMap<string, Snapshot>,
  stale: readonly string[],
): Snapshots {
  const all = signal(ready);
  /** Subjects of which this version can show nothing, and how many entries they have. */
  const unreadable: Signal<ReadonlyMap<string, number>> = signal(new Map());
  const cursors = createCursors(store);
  /** Teams of subjects that were begun here and are not shown yet. */
  const begun = new Map<string, string>();
  const news = createNews(stale);
  const rows = createRows(store);

  const lists = createLists(all);
  const { known } = lists;

  const isShown = (team: string): boolean => [...all.peek().values(), ...lists.changed.values()].some((one) => teamOf(one) === team);
  /** Of a team of which nothing is here, nothing has been seen. */
  const cursorOf = (subject: string): Seen => {
    const snapshot = known(subject);
    const team = snapshot === undefined ? begun.get(subject) : teamOf(snapshot);
    if (team === undefined || (snapshot === undefined && !isShown(team))) return cursors.nothing();
    return cursors.of(team);
  };

  return {
    all,
    stale,
    unread: news.count,
    read: async (subject) => {
      const touches = news.touches();
      return { ...(await store.held(subject)), touches };
    },
    has: (subject) => known(subject) !== undefined,
    newer: computed(() => sum(unreadable.value.values()) + sum([...all.value.values()].map((one) => one.newer ?? 0))),
    take: (subject, held, folded, server) => {
      news.shown(subject, held.touches);
      begun.delete(subject);
      const newer = newerIn(held.events);
      const strange = folded === null ? newer : 0;
      if (strange !== (unreadable.peek().get(subject) ?? 0)) unreadable.value = new Map(unreadable.peek()).set(subject, strange);
      if (folded === null) return;
      const snapshot = snapshotOf(folded, standing(folded, known(subject), server), newer);
      lists.put(subject, snapshot);
      rows.put(subject, snapshot, held.mark);
    },
    show: lists.show,
    touched: async (subjects) => {
      lists.show();
      const touch = news.touch();
      const left = (subject: string): void => {
        news.drop(subject);
        gone(subject);
      };
      const here = await dropGone(store, left, all, subjects);
      news.add(here, cursorOf, touch);
      return here;
    },
    readCursors: cursors.read,
    seenBy: (subject, body) => {
      const named = (body as { readonly team?: unknown } | null)?.team;
      if (known(subject) === undefined && typeof named === 'string') begun.set(subject, named);
      const seen = news.seen(subject) ?? cursorOf(subject);
      return seen.pos === 0 ? cursors.nothing() : seen;
    },
    written: rows.written,
    clear: () => {
      lists.clear();
      cursors.clear();
      all.value = new Map();
    },
  };
}

/** How far the logs of the teams have been taken in, and which log that is: another one begins at nothing. */
function createCursors({ db }: EncryptedStore) {
  const cursors = new Map<string, number>();
  let log = '';
  return {
    nothing: (): Seen => ({ log, pos: 0 }),
    of: (team: string): Seen => ({ log, pos: cursors.get(team) ?? 0 }),
    // Of every team: subjects of one may not be folded yet.
    read: async (): Promise<void> => {
      const range = IDBKeyRange.bound(cursorKey(''), cursorKey('\uffff'));
      const [found, named] = await db.read(['meta'], (tx) => {
        const meta = tx.objectStore('meta');
        return Promise.all([meta.getAll(range), meta.get('log')]);
      });
      log = named?.text ?? '';
      cursors.clear();
      for (const row of found) cursors.set(cursorTeam(row.key) ?? '', row.number ?? 0);
    },
    clear: (): void => {
      cursors.clear();
    },
  };
}

/** Writes what was shown into the rows, after it was shown. */
function createRows(store: EncryptedStore) {
  const rows = createFreshRows(store.db);
  let putting: Promise<void> = Promise.resolve();
  const put = async (subject: string, snapshot: Snapshot, mark: string | undefined): Promise<void> => {
    const row = await store.snapshotRow(subject, snapshot);
    await rows.put(mark === undefined ? row : { ...row, mark });
  };
  return {
    put: (subject: string, snapshot: Snapshot, mark: string | undefined): void => {
      const written = put(subject, snapshot, mark).catch(() => undefined);
      putting = Promise.all([putting, written]).then(() => undefined);
    },
    written: async (): Promise<void> => {
      await putting;
      await rows.written();
    },
  };
}

/** Subjects with news that is not shown yet; those that are stale at the start have shown nothing. */
function createNews(stale: readonly string[]) {
  /** How far the log was before the news, and which touch brought it. */
  const behind = new Map(stale.map((subject) => [subject, { seen: { log: '', pos: 0 } as Seen, touch: 0 }]));
  const count = signal(behind.size);
  let touches = 0;
  return {
    count,
    /** Events that are read from now on have the news of all touches so far. */
    touches: (): number => touches,
    touch: (): number => ++touches,
    add: (subjects: Iterable<string>, cursorOf: (subject: string) => Seen, touch: number): void => {
      for (const subject of subjects) behind.set(subject, { seen: behind.get(subject)?.seen ?? cursorOf(subject), touch });
      count.value = behind.size;
    },
    /** The subject is shown as of events that were read after so many touches: of news that came later nothing was seen. */
    shown: (subject: string, read: number): void => {
      if (read >= (behind.get(subject)?.touch ?? 0)) behind.delete(subject);
      count.value = behind.size;
    },
    drop: (subject: string): void => {
      behind.delete(subject);
      count.value = behind.size;
    },
    seen: (subject: string): Seen | undefined => behind.get(subject)?.seen,
  };
}

/** Shows what was folded in `all`: one subject at once, many together. */
function createLists(all: Signal<ReadonlyMap<string, Snapshot>>) {
  /** Folded and not shown yet. */
  const changed = new Map<string, Snapshot>();
  let shownAt = -Infinity;
  let timer: ReturnType<typeof setTimeout> | undefined;
  const clear = (): void => {
    clearTimeout(timer);
    timer = undefined;
    changed.clear();
  };
  const show = (): void => {
    if (changed.size > 0) {
      all.value = new Map([...all.peek(), ...changed]);
      shownAt = performance.now();
    }
    clear();
  };
  return {
    changed,
    show,
    clear,
    known: (subject: string): Snapshot | undefined => changed.get(subject) ?? all.peek().get(subject),
    put: (subject: string, snapshot: Snapshot): void => {
      changed.set(subject, snapshot);
      const rest = SHOW_EVERY_MS - (performance.now() - shownAt);
      if (rest <= 0) show();
      else timer ??= setTimeout(show, rest);
    },
  };
}

/** The server's result counts where it is for this very state; else this tablet's, or the last one that there was. */
function standing(folded: Folded, before: Snapshot | undefined, server: StoredResult | undefined): Standing {
  if (server !== undefined) return standingOfResult(server.result, false);
  if (folded.type === 'visit' && folded.result !== null) return standingOfResult(folded.result, true);
  return { ...standingOf(before), provisional: true };
}

function sum(numbers: Iterable<number>): number {
  return [...numbers].reduce((total, one) => total + one, 0);
}

async function dropGone(
  store: EncryptedStore,
  told: (subject: string) => void,
  all: Signal<ReadonlyMap<string, Snapshot>>,
  subjects: Iterable<string>,
): Promise<readonly string[]> {
  const asked = [...subjects];
  const keys = await store.db.read(['subjects'], (tx) => Promise.all(asked.map((one) => tx.objectStore('subjects').getKey(one))));
  const gone = asked.filter((_, at) => keys[at] === undefined);
  if (gone.length > 0) {
    const left = new Map(all.value);
    batch(() => {
      for (const one of gone) {
        left.delete(one);
        told(one);
      }
      all.value = left;
    });
  }
  return asked.filter((_, at) => keys[at] !== undefined);
}
