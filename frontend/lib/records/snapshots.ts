/** The snapshots of all subjects on this tablet in memory, kept in step with their rows. */
import { computed, signal, type ReadonlySignal, type Signal } from '@preact/signals';
import type { EncryptedStore } from '../database/encrypted-store';
import type { Outbox } from '../sync/outbox';
import type { StoredEvent } from './event';
import { briefOf, foldHeld, newerIn, snapshotOf, teamOf, type Snapshot, type Standing } from './snapshot';
import { readStoredResult, standingOfResult, stateOf, type StoredResult } from './stored-result';

export interface SnapshotsDeps {
  readonly store: EncryptedStore;
  readonly outbox: Outbox;
  /** Told that a subject was taken off this device. */
  readonly gone: (subject: string) => void;
  /** Told that a subject's events were read again. */
  readonly replaced: (subject: string, events: readonly StoredEvent[]) => void;
}

export interface Snapshots {
  readonly all: ReadonlySignal<ReadonlyMap<string, Snapshot>>;
  /** Entries that a newer version of the app wrote. */
  readonly newer: ReadonlySignal<number>;
  readonly set: (changed: ReadonlyMap<string, Snapshot>) => void;
  /** Folds subjects again; the caller holds the write lock. */
  readonly refold: (subjects: Iterable<string>) => Promise<void>;
  readonly readCursors: () => Promise<void>;
  /** How far the log of a subject's team has been taken in; `body` names the team of a subject that is new. */
  readonly seenBy: (subject: string, body: unknown) => number;
  readonly saveStanding: (visit: string, result: StoredResult, standing: Standing) => Promise<void>;
  readonly clear: () => void;
}

/** Reads the rows, and folds again what is stale. */
export async function openSnapshots(deps: SnapshotsDeps): Promise<Snapshots> {
  const { ready, stale } = await deps.store.snapshots();
  const snapshots = createSnapshots(deps, ready);
  if (stale.length > 0) await deps.outbox.exclusive(() => snapshots.refold(stale));
  await snapshots.readCursors();
  return snapshots;
}

function createSnapshots(deps: SnapshotsDeps, ready: ReadonlyMap<string, Snapshot>): Snapshots {
  const { store } = deps;
  const all = signal(ready);
  /** Subjects of which this version can show nothing, and how many entries they have. */
  const unreadable: Signal<ReadonlyMap<string, number>> = signal(new Map());
  const cursors = new Map<string, number>();

  const set = (changed: ReadonlyMap<string, Snapshot>): void => {
    if (changed.size > 0) all.value = new Map([...all.value, ...changed]);
  };

  const refold = async (subjects: Iterable<string>): Promise<void> => {
    const changed = new Map<string, Snapshot>();
    const strange = new Map(unreadable.peek());
    for (const subject of await dropGone(deps, all, subjects)) {
      const events = await store.events(subject);
      const snapshot = snapshotOf(events, all.value.get(subject));
      deps.replaced(subject, events);
      if (snapshot !== null) changed.set(subject, await withResult(store, snapshot, events));
      strange.set(subject, snapshot === null ? newerIn(events) : 0);
    }
    unreadable.value = strange;
    const rows = await Promise.all([...changed].map(([key, snapshot]) => store.snapshotRow(key, snapshot)));
    await store.db.write(['subjects'], (tx) => Promise.all(rows.map((row) => tx.objectStore('subjects').put(row))));
    set(changed);
  };

  const readCursors = async (): Promise<void> => {
    const teams = new Set([...all.value.values()].map(teamOf));
    cursors.clear();
    for (const team of teams) cursors.set(team, await store.number(`cursor:${team}`));
  };

  const saveStanding: Snapshots['saveStanding'] = (visit, result, standing) =>
    deps.outbox.exclusive(async () => {
      const before = all.value.get(visit);
      if (before?.type !== 'visit') return;
      const snapshot: Snapshot = { ...before, brief: { ...before.brief, ...standing } };
      await writeStanding(store, visit, result, snapshot);
      set(new Map([[visit, snapshot]]));
    });

  return {
    all,
    set,
    refold,
    readCursors,
    saveStanding,
    newer: computed(() => sum(unreadable.value.values()) + sum([...all.value.values()].map((one) => one.newer ?? 0))),
    seenBy: (subject, body) => {
      const snapshot = all.value.get(subject);
      const named = (body as { readonly team?: unknown } | null)?.team;
      const team = snapshot === undefined ? named : teamOf(snapshot);
      return typeof team === 'string' ? (cursors.get(team) ?? 0) : 0;
    },
    clear: () => {
      cursors.clear();
      all.value = new Map();
    },
  };
}

function sum(numbers: Iterable<number>): number {
  return [...numbers].reduce((total, one) => total + one, 0);
}

/** Forgets subjects that were taken off this device; gives those that are here. */
async function dropGone(
  { store, gone: told }: SnapshotsDeps,
  all: Signal<ReadonlyMap<string, Snapshot>>,
  subjects: Iterable<string>,
): Promise<readonly string[]> {
  const asked = [...subjects];
  const keys = await store.db.read(['subjects'], (tx) => Promise.all(asked.map((one) => tx.objectStore('subjects').getKey(one))));
  const gone = asked.filter((one, at) => keys[at] === undefined && all.value.has(one));
  if (gone.length > 0) {
    const left = new Map(all.value);
    for (const one of gone) {
      left.delete(one);
      told(one);
    }
    all.value = left;
  }
  return asked.filter((_, at) => keys[at] !== undefined);
}

/** A result that is kept for this very state still counts. */
async function withResult(store: EncryptedStore, snapshot: Snapshot, events: readonly StoredEvent[]): Promise<Snapshot> {
  if (snapshot.type !== 'visit') return snapshot;
  const kept = readStoredResult(await store.value('results', snapshot.brief.id));
  const visit = foldHeld(events);
  if (kept === undefined || kept.state !== (await stateOf(visit))) return snapshot;
  return { ...snapshot, brief: briefOf(visit, standingOfResult(kept)) };
}

async function writeStanding(store: EncryptedStore, visit: string, result: StoredResult, snapshot: Snapshot): Promise<void> {
  const [row, box] = [await store.snapshotRow(visit, snapshot), await store.seal('results', visit, result)];
  await store.db.write(['results', 'subjects'], async (tx) => {
    await tx.objectStore('results').put({ key: visit, box });
    const had = await tx.objectStore('subjects').get(visit);
    await tx.objectStore('subjects').put(had?.stale === 1 ? { ...row, stale: 1 } : row);
  });
}
