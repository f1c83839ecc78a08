/**
 * Taking rows off the disk for good, as far as a page can. Deleting alone leaves
 * them in the browser's log until it is tidied, so something else of the same
 * size is written over each first, and is on the disk before the rows are deleted.
 * A database that adds to a log keeps what was overwritten until it compacts,
 * which no page can ask for: SECURITY.md says what was still found.
 */
import type { DBSchema, StoreNames } from 'idb';
import { randomBytes } from '../bytes';
import { createDatabase, type DatabaseNotices, type WriteTx } from './database';
import { personPlan, personStores } from './rows';

/** The most that the browser gives at once. */
const MOST_RANDOM = 65_536;

/** Random bytes of the same size in place of all that is sealed in a row. */
export function scrambled<T>(row: T): T {
  return noise(row) as T;
}

function noise(value: unknown): unknown {
  if (value instanceof Uint8Array) {
    const bytes = new Uint8Array(value.length);
    for (let at = 0; at < bytes.length; at += MOST_RANDOM) bytes.set(randomBytes(Math.min(MOST_RANDOM, bytes.length - at)), at);
    return bytes;
  }
  if (Array.isArray(value)) return value.map(noise);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([name, one]) => [name, noise(one)]));
}

interface KeyedStore {
  readonly getAll: () => Promise<readonly { readonly key: string }[]>;
  readonly put: (row: { readonly key: string }) => Promise<unknown>;
}

/** Writes over each row of a store, in the transaction given. */
export async function scramble<S extends DBSchema, N extends StoreNames<S>>(tx: WriteTx<S, N>, store: N): Promise<void> {
  const rows = tx.objectStore(store) as unknown as KeyedStore;
  await Promise.all((await rows.getAll()).map((row) => rows.put(scrambled(row))));
}

/**
 * Overwrites a person's rows and deletes their database, which nobody has open any
 * more. What cannot be overwritten is deleted all the same.
 */
export async function erasePerson(person: string, nth: number | undefined, notices: DatabaseNotices): Promise<void> {
  const db = createDatabase(personPlan(person, nth), notices);
  for (const store of personStores) {
    await db.write([store], (tx) => scramble(tx, store)).catch(() => undefined);
    await db.write([store], (tx) => tx.objectStore(store).clear()).catch(() => undefined);
  }
  await db.destroy();
  db.close();
}
