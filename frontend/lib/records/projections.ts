/**
 * What the screens see: clients, visits and their results as signals, kept in
 * step with the rows. Every write goes through here, so that what is shown and
 * what is on disk change together, and only after it is on disk.
 */
import { batch, computed, signal, type ReadonlySignal, type Signal } from '@preact/signals';
import type { Control, Ref } from '../model.gen';
import { hidden } from './second-rating';
import { createCards, type Unconfirmed } from './cards';
import { createOpenVisit, type OpenVisit, type OpenVisitDeps } from './open-visit';
import { StoreError } from '../errors';
import { readStoredResult, standingOfResult, stateOf } from './stored-result';
import type { Outbox } from '../sync/outbox';
import { readRefused } from '../sync/push';
import type { EncryptedStore } from '../database/encrypted-store';
import type { StoredEvent } from './event';
import { briefOf, foldHeld, newerIn, snapshotOf, teamOf, type Snapshot } from './snapshot';
import type { ClientCard, ClientView, Refused, VisitView } from './types';
import { noWaiting, readWaiting, type Waiting } from './waiting';

export interface ProjectionsDeps extends Omit<OpenVisitDeps, 'saveStanding'> {
  readonly store: EncryptedStore;
  readonly outbox: Outbox;
  /** Whose tablet this is. */
  readonly person: string;
  readonly now: () => Date;
  /** Sync is under way. */
  readonly sending: ReadonlySignal<boolean>;
  /** Told after each write, with the subjects that changed. */
  readonly wrote: (subjects: readonly string[]) => void;
}

export interface Projections {
  readonly clients: ReadonlySignal<readonly ClientCard[]>;
  readonly kit: ReadonlySignal<readonly Control[]>;
  readonly waiting: ReadonlySignal<Waiting>;
  readonly refused: ReadonlySignal<readonly Refused[]>;
  readonly needsChoice: ReadonlySignal<number>;
  /** Entries that a newer version of the app wrote. */
  readonly newer: ReadonlySignal<number>;
  readonly openClient: (id: string) => ReadonlySignal<ClientView | null>;
  readonly openVisit: (id: string) => ReadonlySignal<VisitView | null>;
  readonly write: (kind: string, subject: string, body: unknown) => Promise<Ref>;
  /** Reads rows again that a sync or another tab has changed. */
  readonly refresh: (subjects: ReadonlySet<string>) => Promise<void>;
  /** Takes in the server's result for a visit; see OpenVisit.confirm. */
  readonly confirm: (visit: string, server: { readonly visit: unknown; readonly text: string }) => Promise<void>;
  /** Clients with a sent visit whose result the server has not confirmed here. */
  readonly unconfirmed: () => readonly Unconfirmed[];
  /** Clients that waiting entries are about. */
  readonly waitingClients: () => readonly string[];
  /** Checklists that visits on this tablet are pinned to. */
  readonly checklistsInUse: () => ReadonlySet<string>;
  /** Tries again to show open visits, after checklists came in. */
  readonly retry: () => Promise<void>;
  /** Forgets what is in memory and ends what was still to be kept; it can be computed again. */
  readonly close: () => void;
}

/** Reads the rows and begins to show them. */
export async function openProjections(deps: ProjectionsDeps): Promise<Projections> {
  const { store, outbox } = deps;
  const snapshots = signal<ReadonlyMap<string, Snapshot>>(new Map());
  const waiting: Signal<Waiting> = signal(noWaiting);
  const refused: Signal<readonly Refused[]> = signal([]);
  /** Subjects of which this version can show nothing, and how many entries they have. */
  const unreadable: Signal<ReadonlyMap<string, number>> = signal(new Map());
  const cursors = new Map<string, number>();
  const openVisits = new Map<string, OpenVisit>();
  const clientViews = new Map<string, ReadonlySignal<ClientView | null>>();
  const visitViews = new Map<string, ReadonlySignal<VisitView | null>>();
  const cards = createCards({ snapshots, waiting, sending: deps.sending, person: deps.person, now: deps.now });

  const setSnapshots = (changed: ReadonlyMap<string, Snapshot>): void => {
    if (changed.size > 0) snapshots.value = new Map([...snapshots.value, ...changed]);
  };

  const readCursors = async (): Promise<void> => {
    const teams = new Set([...snapshots.value.values()].map(teamOf));
    cursors.clear();
    for (const team of teams) cursors.set(team, await store.number(`cursor:${team}`));
  };

  const readTallies = async (): Promise<void> => {
    const [tally, list] = [await readWaiting(store), await readRefused(store)];
    batch(() => {
      waiting.value = tally;
      refused.value = list;
    });
  };

  /** Forgets subjects that were taken off this device; gives those that are here. */
  const dropGone = async (subjects: Iterable<string>): Promise<readonly string[]> => {
    const all = [...subjects];
    const keys = await store.db.read(['subjects'], (tx) => Promise.all(all.map((one) => tx.objectStore('subjects').getKey(one))));
    const gone = all.filter((one, at) => keys[at] === undefined && snapshots.value.has(one));
    if (gone.length > 0) {
      const left = new Map(snapshots.value);
      for (const one of gone) for (const map of [left, openVisits, clientViews, visitViews]) map.delete(one);
      snapshots.value = left;
    }
    return all.filter((_, at) => keys[at] !== undefined);
  };

  /** Folds stale subjects again; the caller holds the write lock. */
  const refold = async (subjects: Iterable<string>): Promise<void> => {
    const changed = new Map<string, Snapshot>();
    const strange = new Map(unreadable.peek());
    for (const subject of await dropGone(subjects)) {
      const events = await store.events(subject);
      const snapshot = snapshotOf(events, snapshots.value.get(subject));
      openVisits.get(subject)?.replace(events);
      if (snapshot !== null) changed.set(subject, await withResult(snapshot, events));
      strange.set(subject, snapshot === null ? newerIn(events) : 0);
    }
    unreadable.value = strange;
    const rows = await Promise.all([...changed].map(([key, snapshot]) => store.snapshotRow(key, snapshot)));
    await store.db.write(['subjects'], (tx) => Promise.all(rows.map((row) => tx.objectStore('subjects').put(row))));
    setSnapshots(changed);
  };

  /** A result that is kept for this very state still counts. */
  const withResult = async (snapshot: Snapshot, events: readonly StoredEvent[]): Promise<Snapshot> => {
    if (snapshot.type !== 'visit') return snapshot;
    const kept = readStoredResult(await store.value('results', snapshot.brief.id));
    const visit = foldHeld(events);
    if (kept === undefined || kept.state !== (await stateOf(visit))) return snapshot;
    return { ...snapshot, brief: briefOf(visit, standingOfResult(kept)) };
  };

  const refresh = (subjects: ReadonlySet<string>): Promise<void> =>
    outbox.exclusive(async () => {
      await refold(subjects);
      await readCursors();
      await readTallies();
    });

  const saveStanding: OpenVisitDeps['saveStanding'] = (visit, result, standing) =>
    outbox.exclusive(async () => {
      const before = snapshots.value.get(visit);
      if (before?.type !== 'visit') return;
      const snapshot: Snapshot = { ...before, brief: { ...before.brief, ...standing } };
      const [row, box] = [await store.snapshotRow(visit, snapshot), await store.seal('results', visit, result)];
      await store.db.write(['results', 'subjects'], async (tx) => {
        await tx.objectStore('results').put({ key: visit, box });
        const had = await tx.objectStore('subjects').get(visit);
        await tx.objectStore('subjects').put(had?.stale === 1 ? { ...row, stale: 1 } : row);
      });
      setSnapshots(new Map([[visit, snapshot]]));
    });

  const openVisitOf = (id: string): OpenVisit => {
    const had = openVisits.get(id);
    if (had !== undefined) return had;
    const opened = createOpenVisit(id, { ...deps, saveStanding });
    openVisits.set(id, opened);
    return opened;
  };

  const seenBy = (subject: string, body: unknown): number => {
    const snapshot = snapshots.value.get(subject);
    const named = (body as { readonly team?: unknown } | null)?.team;
    const team = snapshot === undefined ? named : teamOf(snapshot);
    return typeof team === 'string' ? (cursors.get(team) ?? 0) : 0;
  };

  /** Resolves as soon as the entry is on disk: giving the lock back takes a slow tablet longer than a touch. */
  const write = (kind: string, subject: string, body: unknown): Promise<Ref> =>
    new Promise((resolve, reject) => {
      outbox.exclusive(() => writeAlone(kind, subject, body, resolve)).catch(reject);
    });

  const writeAlone = async (kind: string, subject: string, body: unknown, saved: (ref: Ref) => void): Promise<void> => {
    const opened = openVisitOf(subject);
    const events = await opened.events();
    const before = snapshots.value.get(subject);
    let [shown, after]: [Snapshot | null, readonly StoredEvent[]] = [null, events];
    const written = await outbox.append({ kind, subject, body, seen: seenBy(subject, body) }, (event: StoredEvent) => {
      after = [...events, event];
      shown = snapshotOf(after, before);
      return shown;
    });
    batch(() => {
      opened.replace(after);
      if (shown !== null) setSnapshots(new Map([[subject, shown]]));
      waiting.value = waiting.value.plus(subject, written.held.event.at);
    });
    saved(written.ref);
    deps.wrote([subject]);
  };

  const { ready, stale } = await store.snapshots();
  snapshots.value = ready;
  if (stale.length > 0) await outbox.exclusive(() => refold(stale));
  await readCursors();
  await readTallies();

  const kept = <T>(map: Map<string, T>, id: string, create: () => T): T => {
    const had = map.get(id);
    if (had !== undefined) return had;
    const made = create();
    map.set(id, made);
    return made;
  };

  return {
    clients: cards.clients,
    kit: cards.kit,
    waiting,
    refused,
    needsChoice: cards.needsChoice,
    newer: computed(() =>
      [...unreadable.value.values(), ...[...snapshots.value.values()].map((one) => one.newer ?? 0)].reduce((sum, one) => sum + one, 0),
    ),
    openClient: (id) => kept(clientViews, id, () => cards.client(id)),
    openVisit: (id) => {
      const opened = openVisitOf(id);
      opened.open();
      return kept(visitViews, id, () =>
        computed(() => {
          const view = opened.view.value;
          if (view === null) return null;
          const shown = { ...view, sync: cards.syncOf(id), blind: cards.isBlind(id) };
          return shown.blind ? hidden(shown) : shown;
        }),
      );
    },
    write: (kind, subject, body) => {
      if (subject === '') return Promise.reject(new StoreError('refused', 'An entry must be about a client or a visit.'));
      return write(kind, subject, body);
    },
    refresh,
    confirm: (visit, server) => (openVisits.get(visit) ?? createOpenVisit(visit, { ...deps, saveStanding })).confirm(server),
    unconfirmed: () => cards.unconfirmed(),
    waitingClients: () => cards.clientsOf(waiting.peek().of.keys()),
    checklistsInUse: () => new Set([...snapshots.peek().values()].flatMap((one) => (one.type === 'visit' ? [one.brief.checklist] : []))),
    retry: async () => {
      for (const opened of openVisits.values()) await opened.retry();
    },
    close: () => {
      for (const opened of openVisits.values()) opened.close();
      for (const map of [openVisits, clientViews, visitViews, cursors]) map.clear();
      snapshots.value = new Map();
    },
  };
}
