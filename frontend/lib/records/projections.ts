/**
 * What the screens see: clients, visits and their results as signals, kept in
 * step with the rows. Every write goes through here, so that what is shown and
 * what is on disk change together, and only after it is on disk.
 */
import { batch, computed, signal, type ReadonlySignal, type Signal } from '@preact/signals';
import type { EncryptedStore } from '../database/encrypted-store';
import { StoreError } from '../errors';
import type { Control, Ref } from '../model.gen';
import { createCards, type Cards, type Unconfirmed } from './cards';
import { createFolds, type FoldDeps } from './folds';
import { createOpenVisit, type OpenVisit, type Opening } from './open-visit';
import type { Outbox } from './outbox';
import { readRefused } from './refused';
import { createResults, type Current, type Results, type ServerResult } from './results';
import { hidden } from './second-rating';
import { openSnapshots, type Snapshots } from './snapshots';
import { areRecordsGone, createSubjects, withWritten, type Subjects } from './subjects';
import type { ClientCard, ClientView, Refused, VisitView } from './types';
import { noWaiting, readWaiting, type Waiting } from './waiting';

interface ProjectionsDeps extends FoldDeps {
  readonly store: EncryptedStore;
  readonly outbox: Outbox;
  /** Whose tablet this is. */
  readonly person: string;
  readonly now: () => Date;
  readonly setTimer: (run: () => void, ms: number) => unknown;
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
  /** Why an open visit is not shown yet. */
  readonly visitOpening: (id: string) => ReadonlySignal<Opening>;
  /** Subjects with news that is not shown yet. */
  readonly unread: ReadonlySignal<number>;
  /** Why it cannot be shown now, or empty. */
  readonly unreadWhy: ReadonlySignal<string>;
  readonly write: (kind: string, subject: string, body: unknown) => Promise<Ref>;
  /** Reads rows again that a sync or another tab has changed; what they say is shown when it is folded. */
  readonly refresh: (subjects: ReadonlySet<string>) => Promise<void>;
  /** Takes in the server's result for a visit; it counts when it is for the visit as it stands here. False when that could not be found out. */
  readonly confirm: (visit: string, server: ServerResult) => Promise<boolean>;
  /** The result that a visit shows, as a signature names it; refused where it is not the one that was `shown`. */
  readonly resultToSign: Results['toSign'];
  /** Clients with a sent visit whose result the server has not confirmed here. */
  readonly unconfirmed: () => readonly Unconfirmed[];
  /** Clients that waiting entries are about. */
  readonly waitingClients: () => readonly string[];
  /** Checklists that visits on this tablet are pinned to. */
  readonly checklistsInUse: () => ReadonlySet<string>;
  /** Tries again to show open visits, after checklists came in. */
  readonly retry: () => Promise<void>;
  /** Resolves when all that came in is folded, and its rows are on the disk. */
  readonly settled: () => Promise<void>;
  /** Folds nothing more; what is being written still reaches the disk. */
  readonly stop: () => void;
  /** Forgets what is in memory and ends what was still to be kept; it can be computed again. */
  readonly close: () => void;
}

/** What is counted beside the subjects: what waits, and what the server set aside. */
async function openCounts(store: EncryptedStore) {
  const waiting: Signal<Waiting> = signal(noWaiting);
  const refused: Signal<readonly Refused[]> = signal([]);
  const read = async (): Promise<void> => {
    const [count, list] = [await readWaiting(store), await readRefused(store)];
    batch(() => {
      waiting.value = count;
      refused.value = list;
    });
  };
  await read();
  return { waiting, refused, read };
}

/** Why subjects could not be folded as they are, until they are. */
function createFailures() {
  const reasons = new Map<string, string>();
  const why = signal('');
  const show = (): void => {
    why.value = reasons.values().next().value ?? '';
  };
  return {
    /** The reason of one of them, or empty. */
    why,
    has: (subject: string): boolean => reasons.has(subject),
    add: (subject: string, reason: string): void => {
      reasons.set(subject, reason);
      show();
    },
    delete: (subject: string): void => {
      if (reasons.delete(subject)) show();
    },
  };
}

/** Subjects, how they are folded, and the visits that are on the screen. */
async function openSubjects(deps: ProjectionsDeps, gone: (subject: string) => void) {
  const { store } = deps;
  const openVisits = new Map<string, OpenVisit>();
  const failures = createFailures();
  const folds = createFolds(deps);
  const snapshots = await openSnapshots(store, (subject) => {
    openVisits.delete(subject);
    failures.delete(subject);
    subjects.drop(subject);
    results.drop(subject);
    gone(subject);
  });
  const subjects = createSubjects<Current>({
    read: snapshots.read,
    folds,
    take: async (subject, held, folded) => {
      const server = folded?.type === 'visit' ? await results.confirmed(folded.visit) : undefined;
      batch(() => {
        snapshots.take(subject, held, folded, server);
        failures.delete(subject);
        if (folded?.type === 'visit') openVisits.get(subject)?.show(folded, server);
        else openVisits.get(subject)?.absent();
      });
      return { folded, server };
    },
    failed: (subject, error) => {
      // How the records stand is said by itself.
      if (areRecordsGone(error)) return;
      failures.add(subject, error instanceof Error ? error.message : String(error));
      openVisits.get(subject)?.failed(error);
    },
    setTimer: deps.setTimer,
  });
  const results = createResults({ ...deps, folds, subjects, has: snapshots.has, isOpen: (visit) => openVisits.has(visit) });
  return { openVisits, snapshots, subjects, results, failures };
}

/** Reads the rows and begins to show them; what they do not know yet is folded meanwhile. */
export async function openProjections(deps: ProjectionsDeps): Promise<Projections> {
  const { store, outbox } = deps;
  const clientViews = new Map<string, ReadonlySignal<ClientView | null>>();
  const visitViews = new Map<string, ReadonlySignal<VisitView | null>>();
  const { openVisits, snapshots, subjects, results, failures } = await openSubjects(deps, (subject) => {
    for (const map of [clientViews, visitViews]) map.delete(subject);
  });
  const counts = await openCounts(store);
  const { waiting, refused } = counts;
  const cards = createCards({ snapshots: snapshots.all, waiting, sending: deps.sending, person: deps.person, now: deps.now });
  subjects.refold(snapshots.stale);

  const opened = (id: string): OpenVisit =>
    getOrMake(openVisits, id, () => {
      void subjects.held(id);
      void subjects.fold(id);
      return createOpenVisit();
    });

  return {
    clients: cards.clients,
    kit: cards.kit,
    waiting,
    refused,
    needsChoice: cards.needsChoice,
    newer: snapshots.newer,
    openClient: (id) => getOrMake(clientViews, id, () => cards.client(id)),
    openVisit: (id) => {
      const visit = opened(id);
      return getOrMake(visitViews, id, () => viewOf(id, visit, cards));
    },
    visitOpening: (id) => opened(id).opening,
    unread: snapshots.unread,
    unreadWhy: failures.why,
    write: (kind, subject, body) => write({ ...deps, openVisits, snapshots, subjects, waiting }, { kind, subject, body }),
    refresh: async (changed) => {
      const here = await outbox.exclusive(async () => {
        const list = await snapshots.touched(changed);
        await snapshots.readCursors();
        await counts.read();
        return list;
      });
      subjects.refold(here);
    },
    confirm: async (visit, server) => {
      const compared = await results.confirm(visit, server);
      // What could not be folded is tried again.
      if (!openVisits.has(visit) && !failures.has(visit)) subjects.drop(visit);
      return compared;
    },
    resultToSign: results.toSign,
    unconfirmed: () => cards.unconfirmed(),
    waitingClients: () => cards.clientsOf(waiting.peek().of.keys()),
    checklistsInUse: () =>
      new Set([...snapshots.all.peek().values()].flatMap((one) => (one.type === 'visit' ? [one.brief.checklist] : []))),
    retry: async () => {
      await Promise.all([...openVisits].filter(([, visit]) => visit.view.peek() === null).map(([id]) => subjects.fold(id)));
    },
    settled: async () => {
      await subjects.settled();
      snapshots.show();
      await snapshots.written();
    },
    stop: subjects.close,
    close: () => {
      subjects.close();
      for (const visit of openVisits.values()) visit.close();
      for (const map of [openVisits, clientViews, visitViews]) map.clear();
      results.clear();
      snapshots.clear();
    },
  };
}

function getOrMake<T>(map: Map<string, T>, id: string, make: () => T): T {
  const had = map.get(id);
  if (had !== undefined) return had;
  const made = make();
  map.set(id, made);
  return made;
}

function viewOf(id: string, visit: OpenVisit, cards: Cards): ReadonlySignal<VisitView | null> {
  return computed(() => {
    const view = visit.view.value;
    if (view === null) return null;
    const shown = { ...view, sync: cards.syncOf(id), blind: cards.isBlind(id) };
    return shown.blind ? hidden(shown) : shown;
  });
}

interface Entry {
  readonly kind: string;
  readonly subject: string;
  readonly body: unknown;
}

interface WriteDeps extends Pick<ProjectionsDeps, 'outbox' | 'wrote'> {
  readonly openVisits: ReadonlyMap<string, OpenVisit>;
  readonly snapshots: Snapshots;
  readonly subjects: Subjects<Current>;
  readonly waiting: Signal<Waiting>;
}

/** Resolves as soon as the entry is on disk: giving the lock back takes a slow tablet longer than a touch. */
function write(deps: WriteDeps, entry: Entry): Promise<Ref> {
  if (entry.subject === '') return Promise.reject(new StoreError('refused', 'An entry must be about a client or a visit.'));
  return new Promise((resolve, reject) => {
    deps.outbox.exclusive(() => writeAlone(deps, entry, resolve)).catch(reject);
  });
}

/** The caller holds the write lock. What is shown follows when the entry is folded. */
async function writeAlone(deps: WriteDeps, entry: Entry, saved: (ref: Ref) => void): Promise<void> {
  const { snapshots, subjects, waiting, outbox } = deps;
  const { kind, subject, body } = entry;
  const before = await subjects.held(subject);
  const written = await outbox.append({ kind, subject, body, seen: snapshots.seenBy(subject, body) });
  waiting.value = waiting.value.plus(subject, written.held.event.at);
  deps.openVisits.get(subject)?.behind();
  void subjects.changed(subject, withWritten(before, written));
  saved(written.ref);
  deps.wrote([subject]);
}
