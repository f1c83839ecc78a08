/**
 * One module owns the database handle. A write counts as saved when its strict
 * transaction is complete, not before: browsers report a full disk only when
 * they abort the transaction. A handle that the browser has closed under us is
 * opened again once.
 */
import { openDB, type DBSchema, type IDBPDatabase, type IDBPTransaction, type StoreNames } from 'idb';
import { StoreError } from './errors';

/** What the person is told when the handle's fate changes. */
export interface DatabaseNotices {
  /** Another tab holds an older version of the database open. */
  readonly blocked: () => void;
  /** A newer version of the app took over in another tab; this one must reload. */
  readonly outdated: () => void;
}

export type WriteTx<S extends DBSchema, N extends StoreNames<S>> = IDBPTransaction<S, N[], 'readwrite'>;
export type ReadTx<S extends DBSchema, N extends StoreNames<S>> = IDBPTransaction<S, N[], 'readonly'>;

export interface Database<S extends DBSchema> {
  /** Runs work in one strict transaction; resolves when it is on disk. */
  readonly write: <N extends StoreNames<S>, T>(stores: readonly N[], work: (tx: WriteTx<S, N>) => Promise<T>) => Promise<T>;
  readonly read: <N extends StoreNames<S>, T>(stores: readonly N[], work: (tx: ReadTx<S, N>) => Promise<T>) => Promise<T>;
  /** For good: what comes later is refused, so that a locked tablet's rows stay shut. */
  readonly close: () => void;
}

export interface DatabasePlan<S extends DBSchema> {
  readonly name: string;
  readonly version: number;
  readonly upgrade: (db: IDBPDatabase<S>, from: number) => void;
}

const BLOCKED_AFTER_MS = 10_000;

export function createDatabase<S extends DBSchema>(plan: DatabasePlan<S>, notices: DatabaseNotices): Database<S> {
  let opening: Promise<IDBPDatabase<S>> | null = null;
  let outdated = false;
  let closed = false;

  const handle = (): Promise<IDBPDatabase<S>> => {
    if (closed) return Promise.reject(new StoreError('locked', 'This tablet is locked. Sign in to go on; nothing is lost.'));
    if (outdated) return Promise.reject(new StoreError('lost', 'A newer version of Doorsill is open in another tab. Reload this one.'));
    opening ??= open(plan, notices, {
      gone: () => { opening = null; },
      overtaken: () => { outdated = true; notices.outdated(); },
    }).catch((error: unknown) => {
      opening = null;
      throw error;
    });
    return opening;
  };

  /** Begins a transaction, with a second handle when the first one is dead. */
  const begin = async <T>(start: (db: IDBPDatabase<S>) => T): Promise<T> => {
    try {
      return start(await handle());
    } catch (error) {
      if (!isDeadHandle(error)) throw asStoreError(error);
      opening = null;
      try {
        return start(await handle());
      } catch (again) {
        throw asStoreError(again);
      }
    }
  };

  return {
    write: async (stores, work) => {
      const tx = await begin((db) => ({ run: db.transaction([...stores], 'readwrite', { durability: 'strict' }) }));
      return settle(tx.run, () => work(tx.run));
    },
    read: async (stores, work) => {
      const tx = await begin((db) => ({ run: db.transaction([...stores], 'readonly') }));
      return settle(tx.run, () => work(tx.run));
    },
    close: () => {
      closed = true;
      void opening?.then((db) => { db.close(); }, () => undefined);
      opening = null;
    },
  };
}

interface Fate {
  readonly gone: () => void;
  readonly overtaken: () => void;
}

function open<S extends DBSchema>(plan: DatabasePlan<S>, notices: DatabaseNotices, fate: Fate): Promise<IDBPDatabase<S>> {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const given = new Promise<never>((_, reject) => {
    timer = setTimeout(() => {
      reject(new StoreError('blocked', 'The records on this tablet could not be opened. Close other Doorsill tabs and reload.'));
    }, BLOCKED_AFTER_MS);
  });
  const opened = openDB<S>(plan.name, plan.version, {
    upgrade: (db, from) => { plan.upgrade(db, from); },
    blocked: () => { notices.blocked(); },
    blocking: (_current, _wanted, event) => {
      (event.target as IDBDatabase).close();
      fate.gone();
      fate.overtaken();
    },
    terminated: () => { fate.gone(); },
  });
  return Promise.race([opened, given]).finally(() => { clearTimeout(timer); });
}

/** Waits for work and for the transaction, whichever fails first. */
async function settle<T>(tx: { readonly done: Promise<void>; readonly error: DOMException | null; abort: () => void }, work: () => Promise<T>): Promise<T> {
  const done = tx.done.then(() => null, (error: unknown) => ({ error }));
  let result: T;
  try {
    result = await work();
  } catch (error) {
    try {
      tx.abort();
    } catch {
      // It had ended by itself, which is what we want.
    }
    await done;
    // A full disk shows as a request that "was aborted"; the reason is on the transaction.
    throw asStoreError(isAbort(error) ? tx.error ?? error : error);
  }
  const failed = await done;
  if (failed !== null) throw asStoreError(tx.error ?? failed.error);
  return result;
}

function nameOf(error: unknown): string {
  return error instanceof Error || error instanceof DOMException ? error.name : '';
}

function isAbort(error: unknown): boolean {
  return nameOf(error) === 'AbortError';
}

function isDeadHandle(error: unknown): boolean {
  return ['InvalidStateError', 'UnknownError'].includes(nameOf(error));
}

/** Says in plain words why a transaction did not complete. */
export function asStoreError(error: unknown): StoreError {
  if (error instanceof StoreError) return error;
  switch (nameOf(error)) {
    case 'QuotaExceededError':
      return new StoreError('full', 'This tablet has no room left. Nothing was saved; free some space and try again.', { cause: error });
    case 'InvalidStateError':
    case 'UnknownError':
      return new StoreError('lost', 'The browser closed the records and could not open them again. Reload the page.', { cause: error });
    default:
      return new StoreError('unknown', 'This could not be saved. Try again; if it stays so, reload the page.', { cause: error });
  }
}
