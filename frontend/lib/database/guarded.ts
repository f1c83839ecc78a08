/**
 * The only way to write a person's rows. Each transaction that changes any also
 * moves the root over all of them, so that after a kill either both are on the
 * disk or neither is. The root lies in meta: the masked sum of a set hash over
 * every row with all its fields. What is in a box counts by nonce and tag alone:
 * they stand for the rest.
 */
import type { IDBPObjectStore } from 'idb';
import { emptySum, toggle, type SetHash, type Sum } from '../crypto/set-hash';
import { StoreError } from '../errors';
import type { Database, WriteTx } from './database';
import { LOCKED_ACK, ROOT, type PersonSchema, type StoreName } from './rows';

type Row<K extends StoreName = StoreName> = PersonSchema[K]['value'];

/** What a transaction may do with a store: cursors, which change rows one by one, are left out. */
type RowStore<K extends StoreName> = Pick<
  IDBPObjectStore<PersonSchema, StoreName[], K, 'readwrite'>,
  'get' | 'getAll' | 'getKey' | 'getAllKeys' | 'index' | 'put' | 'add'
> & { readonly delete: (key: string) => Promise<void> };

export interface RowTx<N extends StoreName> {
  readonly objectStore: <K extends N>(name: K) => RowStore<K>;
}

/** A person's rows under their root; nothing else is to be handed around. */
export interface PersonDatabase extends Pick<Database<PersonSchema>, 'read' | 'close'> {
  readonly write: <N extends StoreName, T>(stores: readonly N[], work: (tx: RowTx<N>) => Promise<T>) => Promise<T>;
  readonly underRoot: true;
}

const NONCE = 12;
const TAG = 16;

/** Whether the root says anything of a row. */
function isCovered(store: StoreName, key: unknown): boolean {
  return store !== 'meta' || (key !== ROOT && key !== LOCKED_ACK);
}

function markOf(box: Uint8Array): readonly [number, string] {
  return [box.length, String.fromCharCode(...box.subarray(0, NONCE), ...box.subarray(-TAG))];
}

/** A row as the root counts it. Throws on what this program does not write. */
export function textOf(store: StoreName, row: Row): string {
  const fields = Object.entries(row as unknown as Readonly<Record<string, unknown>>)
    .filter(([, value]) => value !== undefined)
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([name, value]) => [name, value instanceof Uint8Array ? markOf(value) : value]);
  return `${store}|${JSON.stringify(fields)}`;
}

/** Rows by store. */
export type Rows = { readonly [K in StoreName]: readonly PersonSchema[K]['value'][] };

/** The sum over rows. Throws on a row that this program did not write. */
export function sumOf(hash: SetHash, rows: Rows): Sum {
  const sum = emptySum();
  for (const [store, list] of Object.entries(rows) as [StoreName, readonly Row[]][]) {
    for (const row of list) if (isCovered(store, row.key)) toggle(sum, hash.element(textOf(store, row)));
  }
  return sum;
}

interface Change {
  /** The row of before as it counts, undefined when there was none. */
  readonly before: Promise<string | undefined>;
  readonly after: string | undefined;
}

/** `hashes` are those of this tab's keys, the newest first: the root is under one of them. */
export function guardRows(db: Database<PersonSchema>, hashes: readonly SetHash[]): PersonDatabase {
  return {
    underRoot: true,
    read: db.read,
    close: db.close,
    write: <N extends StoreName, T>(stores: readonly N[], work: (tx: RowTx<N>) => Promise<T>) =>
      db.write([...new Set<StoreName>([...stores, 'meta'])], async (tx) => {
        const changes: Change[] = [];
        const done = await work({ objectStore: <K extends N>(name: K) => watched<K>(tx, name, changes) });
        await moveRoot(tx, hashes, changes);
        return done;
      }),
  };
}

type AnyStore = Pick<IDBPObjectStore<PersonSchema, StoreName[], StoreName, 'readwrite'>, 'get' | 'delete'> & {
  readonly put: (row: Row) => Promise<string>;
  readonly add: (row: Row) => Promise<string>;
};

/** A store whose changes are noted. What was there before is asked for right ahead of each change, so it is what that change replaces. */
function watched<K extends StoreName>(tx: WriteTx<PersonSchema, StoreName>, name: K, changes: Change[]): RowStore<K> {
  const store = tx.objectStore(name);
  const any = store as unknown as AnyStore;
  const note = (key: string, before: Promise<Row | undefined>, after: Row | undefined): void => {
    if (!isCovered(name, key)) return;
    const text = before.then((row) => (row === undefined ? undefined : textOf(name, row)));
    // A transaction that fails says so by the change itself.
    text.catch(() => undefined);
    changes.push({ before: text, after: after === undefined ? undefined : textOf(name, after) });
  };
  const own = {
    get: store.get.bind(store),
    getAll: store.getAll.bind(store),
    getKey: store.getKey.bind(store),
    getAllKeys: store.getAllKeys.bind(store),
    index: store.index.bind(store),
    put: (row: Row) => {
      note(row.key, any.get(row.key), row);
      return any.put(row);
    },
    add: (row: Row) => {
      note(row.key, Promise.resolve(undefined), row);
      return any.add(row);
    },
    delete: (key: string) => {
      note(key, any.get(key), undefined);
      return any.delete(key);
    },
  };
  return own as unknown as RowStore<K>;
}

async function moveRoot(tx: WriteTx<PersonSchema, StoreName>, hashes: readonly SetHash[], changes: readonly Change[]): Promise<void> {
  if (changes.length === 0) return;
  const meta = tx.objectStore('meta');
  const [root, ...before] = await Promise.all([meta.get(ROOT), ...changes.map((one) => one.before)]);
  const { hash, sum } = openRoot(hashes, root?.box) ?? {};
  if (hash === undefined || sum === undefined)
    throw new StoreError('locked', 'Your password was changed in another tab. Sign in again to go on; nothing is lost.');
  for (const [at, { after }] of changes.entries()) {
    for (const text of [before[at], after]) if (text !== undefined) toggle(sum, hash.element(text));
  }
  await meta.put({ key: ROOT, box: hash.seal(sum) });
}

/** The sum in a root and the hash that it is under; undefined when it is under none of these. */
export function openRoot(
  hashes: readonly SetHash[],
  box: Uint8Array | undefined,
): { readonly hash: SetHash; readonly sum: Sum } | undefined {
  if (box === undefined) return undefined;
  for (const hash of hashes) {
    const sum = hash.open(box);
    if (sum !== null) return { hash, sum };
  }
  return undefined;
}
