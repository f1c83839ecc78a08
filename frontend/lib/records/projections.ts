/**
 * What the screens see: clients, visits and their results as signals, kept in
 * step with the rows. Every write goes through here, so that what is shown and
 * what is on disk change together, and only after it is on disk.
 */
import { batch, computed, signal, type ReadonlySignal, type Signal } from '@preact/signals';
import type { EncryptedStore } from '../database/encrypted-store';
import { StoreError } from '../errors';
import type { Control, Ref } from '../model.gen';
import type { Outbox } from '../sync/outbox';
import { readRefused } from '../sync/push';
import { createCards, type Cards, type Unconfirmed } from './cards';
import type { StoredEvent } from './event';
import { createOpenVisit, type OpenVisit, type OpenVisitDeps } from './open-visit';
import { hidden } from './second-rating';
import { snapshotOf, type Snapshot } from './snapshot';
import { openSnapshots, type Snapshots } from './snapshots';
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
  const waiting: Signal<Waiting> = signal(noWaiting);
  const refused: Signal<readonly Refused[]> = signal([]);
  const openVisits = new Map<string, OpenVisit>();
  const clientViews = new Map<string, ReadonlySignal<ClientView | null>>();
  const visitViews = new Map<string, ReadonlySignal<VisitView | null>>();
  const snapshots = await openSnapshots({
    store,
    outbox,
    gone: (subject) => {
      for (const map of [openVisits, clientViews, visitViews]) map.delete(subject);
    },
    replaced: (subject, events) => openVisits.get(subject)?.replace(events),
  });
  const cards = createCards({ snapshots: snapshots.all, waiting, sending: deps.sending, person: deps.person, now: deps.now });

  const readTallies = async (): Promise<void> => {
    const [tally, list] = [await readWaiting(store), await readRefused(store)];
    batch(() => {
      waiting.value = tally;
      refused.value = list;
    });
  };
  await readTallies();

  const newOpenVisit = (id: string): OpenVisit => createOpenVisit(id, { ...deps, saveStanding: snapshots.saveStanding });
  const opened = (id: string): OpenVisit => getOrMake(openVisits, id, () => newOpenVisit(id));

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
      visit.open();
      return getOrMake(visitViews, id, () => viewOf(id, visit, cards));
    },
    write: (kind, subject, body) => write({ ...deps, snapshots, waiting }, opened, { kind, subject, body }),
    refresh: (subjects) =>
      outbox.exclusive(async () => {
        await snapshots.refold(subjects);
        await snapshots.readCursors();
        await readTallies();
      }),
    confirm: (visit, server) => (openVisits.get(visit) ?? newOpenVisit(visit)).confirm(server),
    unconfirmed: () => cards.unconfirmed(),
    waitingClients: () => cards.clientsOf(waiting.peek().of.keys()),
    checklistsInUse: () =>
      new Set([...snapshots.all.peek().values()].flatMap((one) => (one.type === 'visit' ? [one.brief.checklist] : []))),
    retry: async () => {
      for (const visit of openVisits.values()) await visit.retry();
    },
    close: () => {
      for (const visit of openVisits.values()) visit.close();
      for (const map of [openVisits, clientViews, visitViews]) map.clear();
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
  readonly snapshots: Snapshots;
  readonly waiting: Signal<Waiting>;
}

/** Resolves as soon as the entry is on disk: giving the lock back takes a slow tablet longer than a touch. */
function write(deps: WriteDeps, opened: (id: string) => OpenVisit, entry: Entry): Promise<Ref> {
  if (entry.subject === '') return Promise.reject(new StoreError('refused', 'An entry must be about a client or a visit.'));
  return new Promise((resolve, reject) => {
    deps.outbox.exclusive(() => writeAlone(deps, opened(entry.subject), entry, resolve)).catch(reject);
  });
}

/** The caller holds the write lock. */
async function writeAlone(deps: WriteDeps, open: OpenVisit, entry: Entry, saved: (ref: Ref) => void): Promise<void> {
  const { snapshots, waiting, outbox } = deps;
  const { kind, subject, body } = entry;
  const events = await open.events();
  const before = snapshots.all.value.get(subject);
  let [shown, after]: [Snapshot | null, readonly StoredEvent[]] = [null, events];
  const written = await outbox.append({ kind, subject, body, seen: snapshots.seenBy(subject, body) }, (event: StoredEvent) => {
    after = [...events, event];
    shown = snapshotOf(after, before);
    return shown;
  });
  batch(() => {
    open.replace(after);
    if (shown !== null) snapshots.set(new Map([[subject, shown]]));
    waiting.value = waiting.value.plus(subject, written.held.event.at);
  });
  saved(written.ref);
  deps.wrote([subject]);
}
