/**
 * One module owns the database handle. A write counts as saved when its strict
 * transaction is complete, not before: browsers report a full disk only when
 * they abort the transaction. A handle that the browser has closed under us is
 * opened again a few times, then it is said plainly. A database that was deleted
 * meanwhile is never begun anew under a running app: its counters would start
 * again at 1, and two entries would carry one number.
 */
import { deleteDB, openDB, type DBSchema, type IDBPDatabase, type IDBPTransaction, type StoreNames } from 'idb';
import { lockedError, StoreError, type StoreErrorCode } from '../errors';
import { createPutAway, type PutAway } from './put-away';

/**
 * How the records stand:
 * - `well`: the last thing asked of them worked
 * - `blocked`: another tab holds an older version of the database open, or a lock for long
 * - `outdated`: a newer version of the app took over in another tab; this one must reload
 * - `deleted`: they were deleted while this tab had them open
 * - `lost`: the browser closed them and they did not open again
 * - `full`: the last write found no room
 */
export type DatabaseState = 'well' | 'blocked' | 'outdated' | 'deleted' | 'lost' | 'full';

/** Told each time the state changes, and that all is well when the database is closed: it has no say any more. */
export type DatabaseNotices = (state: DatabaseState) => void;

export type WriteTx<S extends DBSchema, N extends StoreNames<S>> = IDBPTransaction<S, N[], 'readwrite'>;
type ReadTx<S extends DBSchema, N extends StoreNames<S>> = IDBPTransaction<S, N[], 'readonly'>;

export interface Database<S extends DBSchema> {
  /** Runs work in one strict transaction; resolves when it is on disk. */
  readonly write: <N extends StoreNames<S>, T>(stores: readonly N[], work: (tx: WriteTx<S, N>) => Promise<T>) => Promise<T>;
  readonly read: <N extends StoreNames<S>, T>(stores: readonly N[], work: (tx: ReadTx<S, N>) => Promise<T>) => Promise<T>;
  /** For good: what comes later is refused, so that a locked tablet's rows stay shut. */
  readonly close: () => void;
  /** Deletes the database; what is asked of it later begins it anew. */
  readonly destroy: () => Promise<void>;
}

export interface DatabasePlan<S extends DBSchema> {
  readonly name: string;
  readonly version: number;
  readonly upgrade: (db: IDBPDatabase<S>, from: number) => void;
}

const BLOCKED_AFTER_MS = 10_000;
/** This page, where there is one. */
const thisPage = createPutAway(typeof window === 'undefined' ? undefined : window);

/** Handles that one request may go through before the records count as lost. */
const MOST_HANDLES = 3;

const finals: Readonly<Partial<Record<DatabaseState, readonly [StoreErrorCode, string]>>> = {
  outdated: ['outdated', 'A newer version of Doorsill is open in another tab. Reload this one.'],
  deleted: [
    'deleted',
    'The records on this tablet were deleted while Doorsill was open. Nothing can be saved here now: copy what you see to paper, then reload and sign in.',
  ],
};

/** How the records stand; a state that is final is never left. */
interface Health {
  readonly become: (next: DatabaseState) => void;
  readonly state: () => DatabaseState | null;
  /** Why nothing more can be done, once that is so. */
  readonly final: () => StoreError | undefined;
  readonly close: () => void;
}

function createHealth(notices: DatabaseNotices): Health {
  let state: DatabaseState | null = null;
  let closed = false;
  const final = () => (state === null ? undefined : finals[state]);
  return {
    state: () => state,
    become: (next) => {
      if (closed || next === state || final() !== undefined) return;
      state = next;
      notices(next);
    },
    final: () => {
      const why = final();
      return why === undefined ? undefined : new StoreError(...why);
    },
    close: () => {
      closed = true;
      if (state !== null && state !== 'well') notices('well');
    },
  };
}

/** The one handle, opened when it is needed. */
interface Handle<S extends DBSchema> {
  readonly get: () => Promise<IDBPDatabase<S>>;
  /** It is dead: the next request opens another, unless one did already. */
  readonly drop: (dead: IDBPDatabase<S>) => void;
  readonly close: () => void;
  readonly destroy: () => Promise<void>;
}

function createHandle<S extends DBSchema>(plan: DatabasePlan<S>, health: Health): Handle<S> {
  let opening: Promise<IDBPDatabase<S>> | null = null;
  let closed = false;
  /** This tab has had the records open: they may not be new any more. */
  let known = false;
  let current: IDBPDatabase<S> | null = null;
  const forget = (): void => {
    [opening, current] = [null, null];
  };
  const become = (state: DatabaseState) => () => {
    health.become(state);
  };
  const fate: Fate = {
    gone: forget,
    blocked: become('blocked'),
    overtaken: become('outdated'),
    deleted: become('deleted'),
    freed: become('well'),
  };
  const get = (): Promise<IDBPDatabase<S>> => {
    if (closed) return Promise.reject(lockedError());
    const over = health.final();
    if (over !== undefined) return Promise.reject(over);
    opening ??= open(plan, known, fate).then(
      (db) => {
        [known, current] = [true, db];
        return db;
      },
      (error: unknown) => {
        forget();
        // What ended the opening may be that there is nothing left to open.
        throw health.final() ?? error;
      },
    );
    return opening;
  };
  const close = (): void => {
    closed = true;
    void opening?.then(
      (db) => {
        db.close();
      },
      () => undefined,
    );
    forget();
  };
  return {
    get,
    close,
    destroy: async () => {
      const db = await opening?.catch(() => undefined);
      db?.close();
      forget();
      known = false;
      await deleteDB(plan.name);
    },
    drop: (dead) => {
      if (dead === current) forget();
    },
  };
}

export function createDatabase<S extends DBSchema>(plan: DatabasePlan<S>, notices: DatabaseNotices, page: PutAway = thisPage): Database<S> {
  const health = createHealth(notices);
  const handle = createHandle(plan, health);

  /** Runs one transaction; with other handles when the first is dead. `repeat` says whether it may run twice. */
  const run = async <T>(start: (db: IDBPDatabase<S>) => () => Promise<T>, repeat: boolean): Promise<T> => {
    for (let handles = 1; ; handles++) {
      let begun = false;
      let db: IDBPDatabase<S> | undefined;
      try {
        await page.shown();
        db = await handle.get();
        const work = start(db);
        begun = true;
        return await work();
      } catch (error) {
        if (error instanceof EndedByPage) {
          if (repeat) continue;
          throw new StoreError('unknown', 'The page was left while this was being saved. Try again.', { cause: error });
        }
        const dead = isDeadHandle(error);
        if (dead && db !== undefined) handle.drop(db);
        // While the records count as lost each request tries once: so they come back with
        // the browser, and many requests together are no storm.
        const most = health.state() === 'lost' ? 1 : MOST_HANDLES;
        if (!dead || handles >= most || (begun && !repeat)) {
          const said = asStoreError(error);
          if (said.code === 'lost' || said.code === 'full') health.become(said.code);
          throw said;
        }
      }
    }
  };

  return {
    close: () => {
      handle.close();
      health.close();
    },
    destroy: handle.destroy,
    write: async (stores, work) => {
      const done = await run((db) => {
        const tx = db.transaction([...stores], 'readwrite', { durability: 'strict' });
        return () => settle(tx, page, () => work(tx));
      }, false);
      health.become('well');
      return done;
    },
    read: async (stores, work) => {
      const done = await run((db) => {
        const tx = db.transaction([...stores], 'readonly');
        return () => settle(tx, page, () => work(tx));
      }, true);
      if (health.state() !== 'full') health.become('well');
      return done;
    },
  };
}

/** What befalls an open handle. */
interface Fate {
  readonly blocked: () => void;
  readonly gone: () => void;
  readonly overtaken: () => void;
  readonly deleted: () => void;
  /** What was blocked for long is free after all; the next request opens it. */
  readonly freed: () => void;
}

function open<S extends DBSchema>(plan: DatabasePlan<S>, known: boolean, fate: Fate): Promise<IDBPDatabase<S>> {
  let timer: ReturnType<typeof setTimeout> | undefined;
  let late = false;
  const given = new Promise<never>((_, reject) => {
    timer = setTimeout(() => {
      late = true;
      reject(new StoreError('blocked', 'The records on this tablet could not be opened. Close other Doorsill tabs and reload.'));
    }, BLOCKED_AFTER_MS);
  });
  const opened = openDB<S>(plan.name, plan.version, {
    upgrade: (db, from, _to, tx) => {
      // An upgrade that fails is told by the request.
      tx.done.catch(() => undefined);
      if (from > 0 || !known) {
        plan.upgrade(db, from);
        return;
      }
      fate.deleted();
      tx.abort();
    },
    blocked: () => {
      fate.blocked();
    },
    blocking: (_current, wanted, event) => {
      (event.target as IDBDatabase).close();
      fate.gone();
      if (wanted === null) fate.deleted();
      else fate.overtaken();
    },
    terminated: () => {
      fate.gone();
    },
  });
  opened.then(
    (db) => {
      if (!late) return;
      db.close();
      fate.freed();
    },
    () => undefined,
  );
  return Promise.race([opened, given]).finally(() => {
    clearTimeout(timer);
  });
}

/** The transaction was ended since the page was put away: nothing of it is on the disk. */
class EndedByPage extends Error {}

/** Waits for work and for the transaction, whichever fails first. */
async function settle<T>(
  tx: { readonly done: Promise<void>; readonly error: DOMException | null; abort: () => void },
  page: PutAway,
  work: () => Promise<T>,
): Promise<T> {
  const done = tx.done.then(
    () => null,
    (error: unknown) => ({ error }),
  );
  const watched = page.watch(tx);
  void done.then(watched.over);
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
    if (watched.ended()) throw new EndedByPage();
    // A full disk shows as a request that "was aborted"; the reason is on the transaction.
    throw isAbort(error) ? (tx.error ?? error) : error;
  }
  const failed = await done;
  if (failed !== null && watched.ended()) throw new EndedByPage();
  if (failed !== null) throw tx.error ?? failed.error;
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
function asStoreError(error: unknown): StoreError {
  if (error instanceof StoreError) return error;
  switch (nameOf(error)) {
    case 'QuotaExceededError':
      return new StoreError('full', 'This tablet has no room left. Nothing was saved; free some space and try again.', { cause: error });
    case 'VersionError':
      return new StoreError(
        'outdated',
        'A newer version of Doorsill has used this tablet. Close every Doorsill tab, open it again, and update it if it offers that. Nothing is lost.',
        { cause: error },
      );
    case 'InvalidStateError':
    case 'UnknownError':
      return new StoreError('lost', 'The browser closed the records and could not open them again. Reload the page.', { cause: error });
    default:
      return new StoreError('unknown', 'This could not be saved. Try again; if it stays so, reload the page.', { cause: error });
  }
}
