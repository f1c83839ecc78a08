/**
 * What is looked at before anything of a person's rows is believed. The root over
 * all rows (guarded.ts) says whether any of them was changed, moved, taken away
 * or put back while the tablet was locked. Rows of before there was a root get
 * one, once; where something was changed nothing is thrown away and nothing in
 * clear is trusted any more (mend-rows.ts).
 */
import type { Cipher } from '../crypto/cipher';
import { sameSum, type SetHash, type Sum } from '../crypto/set-hash';
import { StoreError } from '../errors';
import type { Database } from './database';
import { guardRows, openRoot, sumOf, type PersonDatabase, type Rows } from './guarded';
import { mendRows, withoutForeign } from './mend-rows';
import { personStores, ROOT, type PersonSchema, type StoreName } from './rows';

export interface RowKeys {
  readonly cipher: Cipher;
  /** Of the keys that are open here, the newest first. */
  readonly hashes: readonly [SetHash, ...SetHash[]];
  readonly tablet: string;
  /** Counts changes of the keys. */
  readonly turn: number;
  readonly now: () => Date;
}

/** How often rows are read anew that another tab changed meanwhile. */
const MOST_TRIES = 10;

/**
 * How rows were found: `whole`, as their root says; `new`, none but what comes before the first; `older`, of a version
 * that kept no root; `altered`, not as this program left them.
 */
type Found = 'whole' | 'new' | 'older' | 'altered';

/** Looks at all rows and gives the way to write them. */
export async function openRows(db: Database<PersonSchema>, keys: RowKeys): Promise<PersonDatabase> {
  for (let tries = 0; tries < MOST_TRIES; tries++) {
    const rows = await readRows(db);
    const found = await judge(rows, keys);
    if (found === 'whole' || (await replaceRows(db, keys.hashes[0], rows, await replacement(rows, found, keys))))
      return guardRows(db, keys.hashes);
  }
  throw new StoreError('blocked', 'Another tab keeps writing to the records on this tablet. Close other Doorsill tabs and try again.');
}

/** What is to stand in place of rows that are not whole. */
function replacement(rows: Rows, found: Exclude<Found, 'whole'>, keys: RowKeys): Promise<Rows> {
  return found === 'altered' ? mendRows(rows, keys) : renewed(rows, keys.cipher);
}

/** Puts the root under the newest key; left as it is when the rows are not what it says: the next unlocking sees to that. */
export async function renewRoot(db: Database<PersonSchema>, keys: RowKeys): Promise<boolean> {
  const rows = await readRows(db);
  return (await judge(rows, keys)) === 'whole' && replaceRows(db, keys.hashes[0], rows, rows);
}

function readRows(db: Database<PersonSchema>): Promise<Rows> {
  return db.read(personStores, (tx) => everyStore((store) => tx.objectStore(store).getAll()));
}

/** The rows that `list` gives for each store. */
async function everyStore(list: (store: StoreName) => Promise<readonly unknown[]>): Promise<Rows> {
  const lists = await Promise.all(personStores.map(list));
  return Object.fromEntries(personStores.map((store, at) => [store, lists[at] ?? []])) as unknown as Rows;
}

/**
 * Compares rows with their root. Throws `locked` where a tab with newer keys is ahead of this one.
 */
async function judge(rows: Rows, { cipher, hashes, turn }: RowKeys): Promise<Found> {
  const box = rows.meta.find((row) => row.key === ROOT)?.box;
  const root = openRoot(hashes, box);
  if (root !== undefined) {
    const sum = trySum(root.hash, rows);
    return sum !== null && sameSum(sum, root.sum) ? 'whole' : 'altered';
  }
  const newerKeys = rows.meta.some((row) => row.key === 'turn' && (row.number ?? 0) > turn);
  const boxes = await kindsOfBoxes(rows, cipher);
  if (newerKeys && !boxes.has('now') && !boxes.has('older'))
    throw new StoreError('locked', 'Your password was changed in another tab. Sign in again to go on; nothing is lost.');
  if (box !== undefined || boxes.has('now')) return 'altered';
  // Nobody can make older boxes without a key, so taking the root away does not pass rows off as older.
  if (boxes.has('older')) return 'older';
  return personStores.every((store) => (rows[store] as readonly { key: string }[]).every((row) => row.key === 'turn')) ? 'new' : 'altered';
}

function trySum(hash: SetHash, rows: Rows): Sum | null {
  try {
    return sumOf(hash, rows);
  } catch {
    return null;
  }
}

/** Which kinds of boxes there are: sealed as today, as before there was a root, or neither. */
async function kindsOfBoxes(rows: Rows, cipher: Cipher): Promise<ReadonlySet<'now' | 'older' | 'neither'>> {
  const kinds = await Promise.all(
    boxesOf(rows).map(async ([store, { key, box }]) => {
      const older = await cipher.isOlder(store, key, box).catch(() => null);
      return older === null ? 'neither' : older ? 'older' : 'now';
    }),
  );
  return new Set(kinds);
}

function boxesOf(rows: Rows): readonly (readonly [StoreName, { readonly key: string; readonly box: Uint8Array }])[] {
  return personStores.flatMap((store) =>
    (rows[store] as readonly { readonly key: string; readonly box?: unknown }[]).flatMap(({ key, box }) =>
      box instanceof Uint8Array ? [[store, { key, box }] as const] : [],
    ),
  );
}

/** Every box sealed as one that is under a root, and what was in clear and is sealed now. */
async function renewed(rows: Rows, cipher: Cipher): Promise<Rows> {
  const next = await everyStore((store) =>
    Promise.all(
      (rows[store] as readonly { readonly key: string; readonly box?: unknown; readonly text?: unknown }[]).map(async (row) => {
        if (store === 'meta' && row.key === 'organisation' && typeof row.text === 'string')
          return { key: row.key, box: await cipher.seal('meta', row.key, new TextEncoder().encode(row.text)) };
        const box = row.box instanceof Uint8Array ? await cipher.renew(store, row.key, row.box) : null;
        return box === null ? row : { ...row, box };
      }),
    ),
  );
  return withoutForeign(next);
}

/** Writes what is to be in place of what was read, with its root, all or nothing; false when the rows are not any more what was read. */
async function replaceRows(db: Database<PersonSchema>, hash: SetHash, seen: Rows, next: Rows): Promise<boolean> {
  const [was, root] = [fingerprint(hash, seen), hash.seal(sumOf(hash, next))];
  return db.write(personStores, async (tx) => {
    const now = await everyStore((store) => tx.objectStore(store).getAll());
    if (fingerprint(hash, now) !== was) return false;
    for (const store of personStores) {
      const before = new Map((seen[store] as readonly { readonly key: string }[]).map((row) => [row.key, row]));
      for (const row of next[store]) {
        if (before.get(row.key) !== row) await tx.objectStore(store).put(row as never);
        before.delete(row.key);
      }
      for (const key of before.keys()) await tx.objectStore(store).delete(key);
    }
    await tx.objectStore('meta').put({ key: ROOT, box: root });
    return true;
  });
}

/** Tells whether rows are the same, also where they are not what this program writes. */
function fingerprint(hash: SetHash, rows: Rows): string {
  const sum = sumOf(hash, withoutForeign(rows));
  const root = rows.meta.find((row) => row.key === ROOT)?.box;
  return [sum, root ?? [], ...personStores.map((store) => rows[store].length)].join('|');
}
