/**
 * Rows that are locked with a forgotten password. What was signed lies beside
 * them sealed to the organisation's key, and is sent from there. The rows
 * themselves stay as they are: a password may come back to mind.
 */
import type { Http } from '../api/http';
import { pushAnswer, readAnswer } from '../api/schemas';
import { createDatabase, type Database, type DatabaseNotices } from '../database/database';
import { erasePerson } from '../database/erase';
import { LOCKED_ACK, personPlan, type KeyRow, type PersonSchema, type SealedRow } from '../database/rows';
import { StoreError } from '../errors';
import { fileOf, readSealed, type OutboxFile } from '../sync/sealing';
import type { KeyStore } from './key-store';
import { workspaceKeys, type SessionDeps } from './session';

/** What of a person is locked away on this tablet. */
export interface LockedRows {
  /** Entries that the server does not have. */
  readonly waiting: number;
  /** Those of them that are sealed and can be sent. */
  readonly sealed: number;
}

interface LockedDatabase {
  readonly db: Database<PersonSchema>;
  readonly waiting: number;
  readonly copies: readonly SealedRow[];
}

export interface LockedRowsDeps {
  readonly keyStore: KeyStore;
  readonly notices: () => DatabaseNotices;
  readonly person: string;
  /** The row of the key store whose rows are open. */
  readonly keyRowId: string;
}

/** Runs work over each of the person's databases that are locked away. */
async function each<T>(deps: LockedRowsDeps, work: (one: LockedDatabase, row: KeyRow) => Promise<T>): Promise<readonly T[]> {
  const rows = (await deps.keyStore.all()).filter((row) => row.person === deps.person && row.key !== deps.keyRowId);
  const done: T[] = [];
  for (const row of rows) {
    const db = createDatabase(personPlan(row.person, row.rows), deps.notices());
    try {
      const number = async (key: string) => (await db.read(['meta'], (tx) => tx.objectStore('meta').get(key)))?.number ?? 0;
      const ack = Math.max(await number('ack'), await number(LOCKED_ACK));
      const waiting = await db.read(['events'], (tx) => tx.objectStore('events').index('own').count(IDBKeyRange.lowerBound(ack, true)));
      const copies = (await readSealed(db)).filter((one) => one.to > ack);
      done.push(await work({ db, waiting, copies }, row));
    } finally {
      db.close();
    }
  }
  return done;
}

const countIn = (copies: readonly SealedRow[]) => copies.reduce((sum, one) => sum + one.to - one.from + 1, 0);

export async function readLockedRows(deps: LockedRowsDeps): Promise<LockedRows> {
  const all = await each(deps, (one) => Promise.resolve(one));
  return { waiting: all.reduce((sum, one) => sum + one.waiting, 0), sealed: all.reduce((sum, one) => sum + countIn(one.copies), 0) };
}

/** Sends the sealed copies, oldest first; what the server has is noted after each. */
export async function sendLockedRows(http: Http, deps: LockedRowsDeps): Promise<void> {
  await each(deps, async ({ db, copies }) => {
    for (const copy of copies) {
      const bytes = new TextEncoder().encode(copy.envelope);
      const answer = await http({ method: 'POST', path: '/api/v1/sealed', raw: { type: 'application/json', bytes }, timeoutMs: 60_000 });
      const { ack } = readAnswer(pushAnswer, answer.json);
      await db.write(['meta'], (tx) => tx.objectStore('meta').put({ key: LOCKED_ACK, number: ack }));
    }
  });
}

/** Clears what is locked away once the server has it; false where something stays that it has not. */
export async function clearLockedRows(http: Http, deps: LockedRowsDeps): Promise<boolean> {
  await sendLockedRows(http, deps);
  const empty = await each(deps, ({ waiting }, row) => Promise.resolve(waiting === 0 ? row : null));
  for (const row of empty) {
    if (row === null) continue;
    await deps.keyStore.forget(row.key);
    await erasePerson(row.person, row.rows, deps.notices());
  }
  return !empty.includes(null);
}

/** Opens the rows that this password locks, and sends everything in them. Who forgot twice has rows under two. */
export async function openLockedRows(session: SessionDeps, deps: LockedRowsDeps, password: string): Promise<void> {
  const refused = await each(deps, async ({ waiting }, row) => {
    if (waiting === 0) return undefined;
    const opened = await deps.keyStore.unlock(row, password).catch(notThis);
    if (opened instanceof StoreError) return opened;
    await session.sendRows(workspaceKeys(row, opened));
    return null;
  });
  const why = refused.find((one) => one instanceof StoreError);
  if (why !== undefined && !refused.includes(null)) throw why;
}

function notThis(error: unknown): StoreError {
  if (error instanceof StoreError && (error.code === 'password' || error.code === 'wait')) return error;
  throw error;
}

/** The sealed copies as a file, for a tablet that cannot send. */
export async function exportLockedRows(deps: LockedRowsDeps, now: Date): Promise<OutboxFile> {
  const copies = (await each(deps, ({ copies: some }) => Promise.resolve(some))).flat();
  return fileOf(
    copies.map((one) => one.envelope),
    countIn(copies),
    now,
  );
}

/** What a person can do about it. */
export interface LockedRowsActions {
  readonly read: () => Promise<LockedRows>;
  /** Sends what was signed; the organisation's key opens it. */
  readonly send: () => Promise<void>;
  /** Sends everything, for whoever remembers the password of then. */
  readonly open: (password: string) => Promise<void>;
  readonly file: () => Promise<OutboxFile>;
}

export function lockedRowsActions(http: Http, session: SessionDeps, deps: LockedRowsDeps): LockedRowsActions {
  return {
    read: () => readLockedRows(deps),
    send: () => sendLockedRows(http, deps),
    open: (password) => openLockedRows(session, deps, password),
    file: () => exportLockedRows(deps, new Date()),
  };
}
