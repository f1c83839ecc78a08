/** Everything that runs while one person is signed in on this tab. */
import { batch, computed, signal, type ReadonlySignal, type Signal } from '@preact/signals';
import { openProjections, type Projections } from '../records/projections';
import { openChecklists, type Checklists } from '../records/checklists';
import { createCipher } from '../crypto/cipher';
import { createDatabase, type DatabaseNotices } from '../database/database';
import { openDrafts, type Drafts } from '../database/drafts';
import type { Engine } from '../engine/engine';
import { StoreError } from '../errors';
import { createExchange } from '../sync/exchange';
import type { Http } from '../api/http';
import type { Locks } from '../database/locks';
import { openLeft, type Left } from '../sync/holdings';
import { createLoop, type Loop } from '../sync/loop';
import { createOutbox } from '../sync/outbox';
import { createTeamDownloads, type TeamDownloads } from '../sync/team-download';
import { openPeople, type People } from '../records/colleagues';
import { pushAll } from '../sync/push';
import { renewRows } from './reencrypt';
import { personPlan } from '../database/rows';
import { sealOutbox, sealSigned, type OutboxFile, type SealingDeps } from '../sync/sealing';
import { createEncryptedStore, type EncryptedStore } from '../database/encrypted-store';
import type { SyncProblem, SyncState } from '../records/types';

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
  readonly notices: DatabaseNotices;
  /** This person locked Doorsill in another tab. */
  readonly lockedElsewhere: () => void;
}

export interface WorkspaceKeys {
  readonly person: string;
  readonly tablet: string;
  readonly key: CryptoKey;
  /** Keys that rows of before still open with. */
  readonly older?: readonly CryptoKey[];
  /** Which of the person's databases; see KeyRow. */
  readonly rows?: number | undefined;
  /** Counts changes of the keys. */
  readonly turn?: number | undefined;
}

export interface Workspace {
  readonly store: EncryptedStore;
  readonly projections: Projections;
  readonly checklists: Checklists;
  readonly drafts: Drafts;
  readonly people: People;
  readonly left: Left;
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

type TabMessage = { readonly changed: readonly string[]; readonly sent: boolean } | { readonly lock: true };

export async function openWorkspace(world: World, who: WorkspaceKeys): Promise<Workspace> {
  const db = createDatabase(personPlan(who.person, who.rows), world.notices);
  const damaged = signal(0);
  const cipher = createCipher(who.person, who.key, who.older);
  const store = createEncryptedStore(
    db,
    cipher,
    () => {
      damaged.value += 1;
    },
    who.turn,
  );
  // Written before anything is sealed under these keys, so that a tab with older ones knows.
  const turn = who.turn ?? 0;
  if (turn > (await store.number('turn'))) await db.write(['meta'], (tx) => tx.objectStore('meta').put({ key: 'turn', number: turn }));
  const outbox = createOutbox({ ...world, store, person: who.person, tablet: who.tablet });
  const checklists = await openChecklists(store);
  const [drafts, people, left] = [await openDrafts(store), await openPeople(store), await openLeft(store)];
  const sending = signal(false);
  const channel = world.channel(`doorsill-${who.person}`);
  const tell = (changed: Iterable<string>, sent: boolean): void => {
    channel?.postMessage({ changed: [...changed], sent } satisfies TabMessage);
  };
  let loop: Loop | null = null;
  const projections = await openProjections({
    store,
    outbox,
    person: who.person,
    engine: world.engine,
    checklist: checklists.find,
    sending,
    now: world.now,
    wrote: (subjects) => {
      tell(subjects, false);
      loop?.poke();
    },
  });

  const teamDownloads = createTeamDownloads({ store, outbox });
  const sealing: SealingDeps = { store, person: who.person, tablet: who.tablet, now: world.now };
  const sealNow = async (): Promise<void> => {
    if (who.tablet !== '') await sealSigned(sealing).catch(() => undefined);
  };
  const news = createNews(await store.text('sent'));
  const exchange = createExchange({
    ...who,
    http: world.http,
    now: world.now,
    store,
    outbox,
    projections,
    checklists,
    people,
    teamDownloads,
    clock: (serverTime) => {
      news.answered();
      const server = Date.parse(serverTime);
      if (!Number.isNaN(server)) news.clockAhead.value = Math.round((world.now().getTime() - server) / 1000);
    },
    changed: (subjects) => {
      tell(subjects, true);
    },
  });

  const exchangeOnce = async (): Promise<boolean> => {
    sending.value = true;
    try {
      await exchange.run();
      const text = world.now().toISOString();
      await db.write(['meta'], (tx) => tx.objectStore('meta').put({ key: 'sent', text }));
      news.succeeded(text);
      void sealNow();
      return true;
    } catch (error) {
      news.failed(error);
      return false;
    } finally {
      sending.value = false;
    }
  };

  loop = createLoop({
    ...world,
    run: async () => {
      let ok = true;
      await world.locks.ifFree(`doorsill-sync-${who.person}`, async () => {
        ok = await exchangeOnce();
      });
      return ok;
    },
  });

  channel?.addEventListener('message', (event: MessageEvent<TabMessage>) => {
    if ('lock' in event.data) {
      world.lockedElsewhere();
      return;
    }
    const { changed, sent } = event.data;
    void Promise.all([projections.refresh(new Set(changed)), teamDownloads.read()]).catch(() => undefined);
    if (!sent) loop.poke();
  });

  const turnLock = (of: number): string => `doorsill-turn-${who.person}-${who.rows ?? 0}-${of}`;
  const letGo = world.locks.share(turnLock(who.turn ?? 0));
  const finishTurn = async (settle: () => Promise<void>): Promise<void> => {
    let free = true;
    for (let earlier = Math.max(0, (who.turn ?? 0) - (who.older?.length ?? 0)); earlier < (who.turn ?? 0); earlier++) {
      free &&= await world.locks.ifFree(turnLock(earlier), () => Promise.resolve());
    }
    if ((await renewRows(db, cipher)) && free) await settle();
  };

  const state = computed((): SyncState => ({
    asked: news.asked.value,
    online: news.online.value,
    running: sending.value,
    lastSent: news.lastSent.value,
    waiting: projections.waiting.value.total,
    oldestWaiting: projections.waiting.value.oldest,
    refused: projections.refused.value.filter((one) => one.settled === undefined),
    dealtWith: projections.refused.value.filter((one) => one.settled !== undefined).reverse(),
    needsChoice: projections.needsChoice.value,
    newer: projections.newer.value,
    left: left.list.value,
    clockAhead: news.clockAhead.value,
    error: damaged.value > 0 ? damagedRows(damaged.value) : news.error.value,
  }));

  return {
    store,
    projections,
    checklists,
    drafts,
    people,
    left,
    teamDownloads,
    state,
    loop,
    finishTurn,
    pushOnly: () => pushAll({ store, outbox, http: world.http, tablet: who.tablet, applied: () => Promise.resolve(), now: world.now }),
    sealSigned: sealNow,
    sealOutbox: () => sealOutbox(sealing),
    removeDownload: async (team) => {
      const gone = await teamDownloads.remove(team);
      await projections.refresh(gone);
      tell(gone, true);
    },
    lockOthers: () => channel?.postMessage({ lock: true } satisfies TabMessage),
    close: () => {
      loop.stop();
      teamDownloads.close();
      channel?.close();
      // A touch that was on its way to the disk still gets there.
      return Promise.all([drafts.close(), outbox.exclusive(() => Promise.resolve())]).then(() => {
        projections.close();
        db.close();
        letGo();
      });
    },
  };
}

function damagedRows(count: number): SyncProblem {
  const rows = count === 1 ? 'One record' : `${count} records`;
  return {
    code: 'damaged',
    message: `${rows} on this tablet could not be opened and are left out. Tell your administrator; what was sent before is safe on the server.`,
  };
}

interface News {
  readonly asked: Signal<boolean>;
  readonly online: Signal<boolean>;
  readonly lastSent: Signal<string>;
  readonly clockAhead: Signal<number>;
  readonly error: Signal<SyncProblem | null>;
  /** The server gave an answer in the middle of an exchange. */
  readonly answered: () => void;
  readonly succeeded: (at: string) => void;
  readonly failed: (error: unknown) => void;
}

/** What the last exchange said about the way to the server. */
function createNews(sent: string): News {
  const news = {
    asked: signal(false),
    online: signal(false),
    lastSent: signal(sent),
    clockAhead: signal(0),
    error: signal<SyncProblem | null>(null),
  };
  const answered = (): void => {
    news.asked.value = true;
    news.online.value = true;
  };
  return {
    ...news,
    answered: () => {
      batch(answered);
    },
    succeeded: (at) => {
      batch(() => {
        answered();
        news.lastSent.value = at;
        news.error.value = null;
      });
    },
    failed: (error) => {
      batch(() => {
        const problem = problemOf(error);
        news.asked.value = true;
        news.online.value = !['offline', 'portal'].includes(problem.code);
        // Having no network is a state, not a problem.
        news.error.value = problem.code === 'offline' ? null : problem;
      });
    },
  };
}

function problemOf(error: unknown): SyncProblem {
  if (!(error instanceof StoreError)) return { code: 'server', message: 'Sending did not work. It will be tried again; nothing is lost.' };
  if (error.code === 'sign-in')
    return { code: 'sign-in', message: 'Sign in again to send. Nothing is lost: what you saved is on this tablet.' };
  if (error.info.reason === 'server-full') return { code: 'server-full', message: error.message };
  if (error.info.reason === 'tablet')
    return { code: 'tablet', message: 'Somebody else is signed in on this browser. Sign in again to send what is yours.' };
  if (error.info.reason === 'damaged')
    return { code: 'damaged', message: 'What was sent arrived damaged. It will be sent again; nothing is lost.' };
  return { code: error.code, message: error.message };
}
