/**
 * One exchange with the server: send, take in, fetch names, ask what became of
 * entries set aside, fetch checklists (first of all on a new tablet), have
 * results confirmed, report what is left. Each step is complete in itself; a
 * failure leaves the rest for the next try.
 */
import type { Http } from '../api/http';
import { clientAnswer, readAnswer, sessionAnswer } from '../api/schemas';
import type { EncryptedStore } from '../database/encrypted-store';
import { noteReceipt } from '../database/receipts';
import { isFull, StoreError } from '../errors';
import { atMost } from '../patience';
import type { Checklists } from '../records/checklists';
import type { People } from '../records/colleagues';
import type { Outbox } from '../records/outbox';
import type { Projections } from '../records/projections';
import { forgetOld } from './forget';
import { pullTeam } from './pull';
import { pushAll, takeNewLog } from './push';
import { fetchSettled } from './settled';
import type { TeamDownloads } from './team-download';

interface ExchangeDeps {
  readonly store: EncryptedStore;
  readonly outbox: Outbox;
  readonly http: Http;
  readonly projections: Projections;
  readonly checklists: Checklists;
  readonly people: People;
  readonly tablet: string;
  readonly teamDownloads: TeamDownloads;
  readonly now: () => Date;
  /** The server's own time, as last seen. */
  readonly clock: (serverTime: string) => void;
  /** Told which subjects other tabs must read again. */
  readonly changed: (subjects: ReadonlySet<string>) => void;
}

export interface Exchange {
  readonly run: () => Promise<void>;
}

/** Clients to ask for in one exchange; the rest follow with the next. */
const MOST_CONFIRMED = 50;
/** New logs in one exchange before it is left to the next. */
const MOST_LOGS = 3;

/** How long what follows the sending waits for what came in to be folded: it works with what there is. */
const FOLD_PATIENCE_MS = 10_000;

/** What is remembered from one exchange to the next. */
interface Memory {
  /** The list of checklists was fetched. */
  listed: boolean;
  /** Something came in since the names were fetched. */
  namesOld: boolean;
  /** How many entries the server was told to be here. */
  reported: number;
}

export function createExchange(deps: ExchangeDeps): Exchange {
  const memory: Memory = { listed: false, namesOld: true, reported: 0 };
  return {
    run: async () => {
      // A new tablet must be able to start a visit as soon as it shows a client.
      const fresh = deps.checklists.cards.peek().length === 0 && deps.projections.waiting.peek().total === 0;
      if (fresh) await fetchChecklists(deps, memory).catch(() => undefined);
      try {
        await sendAndTake(deps, memory);
      } catch (error) {
        // Where the server answers but does not take all, it shall at least know how much is here.
        if (error instanceof StoreError && (error.code === 'server' || error.code === 'refused')) {
          await report(deps, memory).catch(() => undefined);
        }
        throw error;
      }
      await atMost(FOLD_PATIENCE_MS, deps.projections.settled());
      await removeOld(deps);
      await fetchNames(deps, memory);
      await takeSettled(deps);
      await fetchChecklists(deps, memory);
      await confirmResults(deps);
      await report(deps, memory);
    },
  };
}

/** A server that is full, or has set too much aside, takes nothing in and can still be read. */
function ifFull(error: unknown): StoreError {
  if (error instanceof StoreError && isFull(error)) return error;
  throw error;
}

type Applied = (subjects: ReadonlySet<string>, serverTime: string) => Promise<void>;

async function sendAndTake(deps: ExchangeDeps, memory: Memory): Promise<void> {
  const applied: Applied = async (subjects, serverTime) => {
    deps.clock(serverTime);
    await deps.projections.refresh(subjects);
    if (subjects.size === 0) return;
    memory.namesOld = true;
    deps.changed(subjects);
  };
  for (let logs = 0; logs < MOST_LOGS; logs++) {
    const full = deps.tablet === '' ? null : await pushAll({ ...deps, applied }).then(() => null, ifFull);
    if ((await takeTeams(deps, applied)) === 'new-log') continue;
    if (full !== null) throw full;
    return;
  }
}

async function takeTeams(deps: ExchangeDeps, applied: Applied): Promise<'done' | 'new-log'> {
  let taken = false;
  for (const team of deps.teamDownloads.chosen()) {
    try {
      if ((await pullTeam({ ...deps, applied }, team)) === 'new-log') return 'new-log';
      taken = true;
    } catch (error) {
      // A team that this person has left does not keep the others away.
      if (!(error instanceof StoreError) || (error.info.status !== 403 && error.info.status !== 404)) throw error;
    }
  }
  return taken ? 'done' : askForLog(deps, applied);
}

/** Where nothing is taken in, the smallest answer says that there is a network, and whose log it is. */
async function askForLog(deps: ExchangeDeps, applied: Applied): Promise<'done' | 'new-log'> {
  const { log, server_time: serverTime } = readAnswer(sessionAnswer, (await deps.http({ method: 'GET', path: '/api/v1/session' })).json);
  const known = await deps.store.text('log');
  if (known === '' || log === known) {
    // Time passes for what is here of a team that was taken off the device.
    await deps.outbox.exclusive(() =>
      deps.store.db.write(['meta'], (tx) => noteReceipt(tx.objectStore('meta'), deps.now(), serverTime, { ack: 0, pos: 0 })),
    );
    return 'done';
  }
  await takeNewLog(deps.store, deps.outbox, log);
  await applied(new Set(), '');
  return 'new-log';
}

async function fetchChecklists(deps: ExchangeDeps, memory: Memory): Promise<void> {
  const inUse = deps.projections.checklistsInUse();
  const known = await Promise.all([...inUse].map((hash) => deps.checklists.find(hash)));
  if (memory.listed && !known.includes(undefined)) return;
  const news = await deps.checklists.fetch(deps.http, inUse);
  memory.listed = true;
  if (news) await deps.projections.retry();
}

async function confirmResults(deps: ExchangeDeps): Promise<void> {
  for (const { client, answered } of deps.projections.unconfirmed().slice(0, MOST_CONFIRMED)) {
    let compared = true;
    try {
      const answer = await deps.http({ method: 'GET', path: `/api/v1/clients/${encodeURIComponent(client)}` });
      for (const one of readAnswer(clientAnswer, answer.json).visits) {
        if (one.scored && !(await deps.projections.confirm(one.visit.id, { visit: one.visit, scored: one.scored }))) compared = false;
      }
    } catch (error) {
      // The server may not know the client yet, or not give it to this role.
      if (!(error instanceof StoreError) || error.code !== 'refused') throw error;
    }
    if (compared) answered();
  }
}

/** Names are a help and no more: without them the next exchange tries again. */
async function fetchNames(deps: ExchangeDeps, memory: Memory): Promise<void> {
  if (!memory.namesOld) return;
  memory.namesOld = false;
  await deps.people.fetch(deps.http).catch(() => {
    memory.namesOld = true;
  });
}

async function takeSettled(deps: ExchangeDeps): Promise<void> {
  if (!(await fetchSettled(deps))) return;
  await deps.projections.refresh(new Set());
  deps.changed(new Set());
}

async function removeOld(deps: ExchangeDeps): Promise<void> {
  const gone = await forgetOld(deps);
  if (gone.size === 0) return;
  await deps.projections.refresh(gone);
  deps.changed(gone);
}

/** Lets the team see what is still on this tablet only. */
async function report(deps: ExchangeDeps, memory: Memory): Promise<void> {
  const { total, oldest } = deps.projections.waiting.peek();
  if (deps.tablet === '' || total === memory.reported) return;
  const path = `/api/v1/tablets/${encodeURIComponent(deps.tablet)}/holding`;
  await deps.http({ method: 'POST', path, body: { waiting: total, oldest, clients: deps.projections.waitingClients() } });
  memory.reported = total;
}
