/** Everything that runs while one person is signed in on this tab. */
import { computed, signal, type ReadonlySignal, type Signal } from '@preact/signals';
import type { Http } from '../api/http';
import type { Cipher } from '../crypto/cipher';
import type { DatabaseNotices } from '../database/database';
import { openDrafts, type Drafts } from '../database/drafts';
import { createEncryptedStore, type EncryptedStore } from '../database/encrypted-store';
import type { PersonDatabase } from '../database/guarded';
import type { Locks } from '../database/locks';
import type { Engine } from '../engine/engine';
import { openChecklists, type Checklists } from '../records/checklists';
import { openPeople, type People } from '../records/colleagues';
import { createOutbox, type Outbox } from '../records/outbox';
import { openProjections, type Projections } from '../records/projections';
import type { SyncState } from '../records/types';
import { openAlterations, type Alterations } from '../sync/alterations';
import { createExchange, type Exchange } from '../sync/exchange';
import { openHoldings, type Holdings } from '../sync/holdings';
import { createLoop, type Loop, type Outcome } from '../sync/loop';
import { pushAll } from '../sync/push';
import { sealOutbox, sealSigned, type OutboxFile, type SealingDeps } from '../sync/sealing';
import { createSyncStatus, damagedRows, type SyncStatus } from '../sync/sync-status';
import { createTeamDownloads, type TeamDownloads } from '../sync/team-download';
import { createOtherTabs, type OtherTabs } from './other-tabs';
import { openPersonRows, type WorkspaceKeys } from './person-rows';
import { createKeyRotation } from './reencrypt';

/** What the world gives: replaced in tests. */
export interface World {
  readonly http: Http;
  readonly engine: Engine;
  readonly locks: Locks;
  readonly now: () => Date;
  readonly zone: () => string;
  readonly random: () => number;
  readonly visible: () => boolean;
  readonly setTimer: (run: () => void, ms: number) => unknown;
  readonly clearTimer: (timer: unknown) => void;
  /** A channel to this person's other tabs; null where the browser has none. */
  readonly channel: (name: string) => BroadcastChannel | null;
  /** Whom a database tells how it stands: one for each; see database/states.ts. */
  readonly notices: () => DatabaseNotices;
  /** This person locked Doorsill in another tab. */
  readonly lockedElsewhere: () => void;
}

export interface Workspace {
  readonly store: EncryptedStore;
  readonly projections: Projections;
  readonly checklists: Checklists;
  readonly drafts: Drafts;
  readonly people: People;
  readonly holdings: Holdings;
  readonly alterations: Alterations;
  readonly state: ReadonlySignal<SyncState>;
  readonly loop: Loop;
  readonly teamDownloads: TeamDownloads;
  /** Takes a team's clients off this device; see TeamDownloads.remove. */
  readonly removeDownload: (team: string) => Promise<void>;
  /** Locks this person's other tabs as well. */
  readonly lockOthers: () => void;
  /** Sends what waits and nothing else. */
  readonly pushOnly: () => Promise<void>;
  /** Makes sealed copies of what was signed; what cannot be made now is made at the next sending or unlocking. */
  readonly sealSigned: () => Promise<void>;
  /** Seals rows anew that are under an older key, then has the older keys forgotten; left to a later unlocking while another tab still uses them. */
  readonly finishTurn: (settle: () => Promise<void>) => Promise<void>;
  /** Everything that waits, sealed into a file. */
  readonly sealOutbox: () => Promise<OutboxFile>;
  /** Ends timers, channel and rows; resolves when what was being written is on the disk. */
  readonly close: () => Promise<void>;
}

/** What an open workspace is made of: rows, what is read from them, and what goes to and from the server. */
interface Parts extends Pick<
  Workspace,
  'store' | 'projections' | 'checklists' | 'drafts' | 'people' | 'holdings' | 'alterations' | 'teamDownloads'
> {
  readonly outbox: Outbox;
  readonly tabs: OtherTabs;
  readonly status: SyncStatus;
  readonly sending: Signal<boolean>;
  /** How many rows did not open. */
  readonly damaged: ReadonlySignal<number>;
}

export async function openWorkspace(world: World, who: WorkspaceKeys): Promise<Workspace> {
  const rows = await openPersonRows(world, who);
  const { db } = rows;
  let wrote = (): void => undefined;
  const tabs = createOtherTabs(world.channel(`doorsill-${who.person}`));
  const parts = await openParts(world, who, { ...rows, tabs, wrote: () => wrote() }).catch((error: unknown) => {
    tabs.close();
    db.close();
    throw error;
  });
  const rotation = createKeyRotation(world.locks, { ...who, ...rows });
  const { store, outbox, projections, teamDownloads, drafts } = parts;
  const sealing: SealingDeps = { store, person: who.person, tablet: who.tablet, now: world.now };
  const sealNow = async (): Promise<void> => {
    if (who.tablet !== '') await sealSigned(sealing).catch(() => undefined);
  };
  const loop = startLoop(world, who, parts, sealNow);
  wrote = loop.poke;
  tabs.listen({
    lock: world.lockedElsewhere,
    draft: (key) => {
      drafts.reread(key).catch(() => undefined);
    },
    changed: (subjects, sent) => {
      void Promise.all([projections.refresh(subjects), teamDownloads.read()]).catch(() => undefined);
      if (!sent) loop.poke();
    },
  });
  return {
    ...parts,
    loop,
    state: syncStateOf(parts),
    finishTurn: rotation.finish,
    pushOnly: () => pushOnly(world, who, parts),
    sealSigned: sealNow,
    sealOutbox: () => sealOutbox(sealing),
    removeDownload: async (team) => {
      const gone = await teamDownloads.remove(team);
      await projections.refresh(gone);
      tabs.changed(gone, true);
    },
    lockOthers: tabs.lock,
    close: () => {
      loop.stop();
      teamDownloads.close();
      tabs.close();
      projections.stop();
      // A touch that was on its way to the disk still gets there.
      return Promise.allSettled([drafts.close(), outbox.exclusive(() => Promise.resolve())]).then(() => {
        projections.close();
        db.close();
        rotation.release();
      });
    },
  };
}

/**
 * Sends what waits in a person's rows and shows nothing of them: the program
 * holds the visits of the workspace that is open beside them.
 */
export async function sendRows(world: World, who: WorkspaceKeys): Promise<void> {
  const { db, cipher } = await openPersonRows(world, who);
  try {
    const store = createEncryptedStore(db, cipher, () => undefined, who.turn);
    await pushOnly(world, who, { store, outbox: createOutbox({ ...world, store, person: who.person, tablet: who.tablet }) });
  } finally {
    db.close();
  }
}

function pushOnly({ http, now }: World, { tablet }: WorkspaceKeys, parts: Pick<Parts, 'store' | 'outbox'>): Promise<void> {
  return pushAll({ ...parts, http, now, tablet, applied: () => Promise.resolve() });
}

interface Opened {
  readonly db: PersonDatabase;
  readonly cipher: Cipher;
  readonly tabs: OtherTabs;
  /** Told after each entry that was written here. */
  readonly wrote: () => void;
}

/** Opens the rows and begins to show them. */
async function openParts(world: World, who: WorkspaceKeys, { db, cipher, tabs, wrote }: Opened): Promise<Parts> {
  const damaged = signal(0);
  const countDamaged = (): void => {
    damaged.value += 1;
  };
  const store = createEncryptedStore(db, cipher, countDamaged, who.turn);
  // Written before anything is sealed under these keys, so that a tab with older ones knows.
  const turn = who.turn ?? 0;
  if (turn > (await store.number('turn'))) await db.write(['meta'], (tx) => tx.objectStore('meta').put({ key: 'turn', number: turn }));
  const outbox = createOutbox({ ...world, store, person: who.person, tablet: who.tablet });
  const checklists = await openChecklists(store);
  const [drafts, people, holdings] = [await openDrafts(store, tabs.draft), await openPeople(store), await openHoldings(store)];
  const alterations = await openAlterations(store);
  const sending = signal(false);
  const projections = await openProjections({
    store,
    outbox,
    sending,
    person: who.person,
    engine: world.engine,
    checklist: checklists.find,
    now: world.now,
    setTimer: world.setTimer,
    wrote: (subjects) => {
      tabs.changed(subjects, false);
      wrote();
    },
  });
  const teamDownloads = createTeamDownloads({ store, outbox });
  const status = createSyncStatus(await store.text('sent'));
  return { store, outbox, checklists, drafts, people, holdings, alterations, projections, teamDownloads, tabs, status, sending, damaged };
}

/** Begins to exchange with the server; one tab at a time does. */
function startLoop(world: World, who: WorkspaceKeys, parts: Parts, sealNow: () => Promise<void>): Loop {
  const { status, tabs } = parts;
  const exchange = createExchange({
    ...parts,
    tablet: who.tablet,
    http: world.http,
    now: world.now,
    clock: (serverTime) => {
      status.answered(serverTime, world.now());
    },
    changed: (subjects) => {
      tabs.changed(subjects, true);
    },
  });
  return createLoop({
    ...world,
    run: async (turn) => {
      let outcome: Outcome = 'busy';
      const once = async () => {
        outcome = (await exchangeOnce(exchange, parts, world.now)) ? 'done' : 'failed';
        if (outcome === 'done') void sealNow();
      };
      const lock = `doorsill-sync-${who.person}`;
      await (turn === 'wait' ? world.locks.alone(lock, once) : world.locks.ifFree(lock, once));
      return outcome;
    },
  });
}

/** Resolves to whether it worked; says in the status how it went. */
async function exchangeOnce(exchange: Exchange, { store, sending, status, alterations }: Parts, now: () => Date): Promise<boolean> {
  sending.value = true;
  try {
    await exchange.run();
    const text = now().toISOString();
    await store.db.write(['meta'], (tx) => tx.objectStore('meta').put({ key: 'sent', text }));
    status.succeeded(text);
    return true;
  } catch (error) {
    status.failed(error);
    return false;
  } finally {
    await alterations.read().catch(() => undefined);
    sending.value = false;
  }
}

function syncStateOf({ projections, status, sending, holdings, alterations, damaged }: Parts): ReadonlySignal<SyncState> {
  return computed(() => ({
    asked: status.asked.value,
    online: status.online.value,
    running: sending.value,
    lastSent: status.lastSent.value,
    waiting: projections.waiting.value.total,
    oldestWaiting: projections.waiting.value.oldest,
    refused: projections.refused.value.filter((one) => one.settled === undefined),
    dealtWith: projections.refused.value.filter((one) => one.settled !== undefined).reverse(),
    needsChoice: projections.needsChoice.value,
    newer: projections.newer.value,
    holdings: holdings.list.value,
    altered: alterations.found.value,
    clockAhead: status.clockAhead.value,
    error: damaged.value > 0 ? damagedRows(damaged.value) : status.error.value,
  }));
}
