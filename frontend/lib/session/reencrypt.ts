/**
 * Sealing every row anew after the keys changed. A page that dies in the middle
 * loses nothing: rows open with either key until all of them are done, and a row
 * that somebody else wrote meanwhile is left as they wrote it.
 */
import { sameBytes, type Bytes } from '../bytes';
import type { Cipher } from '../crypto/cipher';
import type { PersonStore } from '../database/encrypted-store';
import type { PersonDatabase } from '../database/guarded';
import type { Locks } from '../database/locks';

const stores: readonly PersonStore[] = ['events', 'subjects', 'results', 'checklists', 'meta', 'drafts'];
const AT_ONCE = 50;
/** Passes in one go; what is written faster than that is left to the next unlocking. */
const MOST_PASSES = 5;

interface Renewed {
  readonly key: string;
  readonly from: Uint8Array;
  readonly box: Bytes;
}

/** True once a whole pass has found no row under an older key. */
export async function renewRows(db: PersonDatabase, cipher: Cipher): Promise<boolean> {
  for (let pass = 0; pass < MOST_PASSES; pass++) {
    let renewed = 0;
    for (const store of stores) renewed += await renewStore(db, cipher, store);
    if (renewed === 0) return true;
  }
  return false;
}

async function renewStore(db: PersonDatabase, cipher: Cipher, store: PersonStore): Promise<number> {
  const keys = await db.read([store], (tx) => tx.objectStore(store).getAllKeys());
  let count = 0;
  for (let at = 0; at < keys.length; at += AT_ONCE) {
    const some = keys.slice(at, at + AT_ONCE);
    const rows = await db.read([store], (tx) => Promise.all(some.map((key) => tx.objectStore(store).get(key))));
    const renewed = await Promise.all(
      rows.map(async (row): Promise<Renewed | null> => {
        const box = row?.box === undefined ? null : await cipher.renew(store, row.key, row.box);
        return row?.box === undefined || box === null ? null : { key: row.key, from: row.box, box };
      }),
    );
    count += await put(
      db,
      store,
      renewed.filter((one) => one !== null),
    );
  }
  return count;
}

async function put(db: PersonDatabase, store: PersonStore, renewed: readonly Renewed[]): Promise<number> {
  if (renewed.length === 0) return 0;
  await db.write([store], async (tx) => {
    for (const one of renewed) {
      const now = await tx.objectStore(store).get(one.key);
      if (now?.box !== undefined && sameBytes(now.box, one.from)) await tx.objectStore(store).put({ ...now, box: one.box } as never);
    }
  });
  return renewed.length;
}

/** The keys of a workspace, while other tabs may still hold older ones. */
interface KeyRotation {
  /** Seals rows anew that are under an older key; then `settle` has the older keys forgotten, unless another tab still uses them. */
  readonly finish: (settle: () => Promise<void>) => Promise<void>;
  /** This tab uses its keys no more. */
  readonly release: () => void;
}

/** `turn` counts changes of the keys, `older` are those of the turns before. Each tab holds a shared lock by the turn of its keys. */
export function createKeyRotation(
  locks: Locks,
  who: {
    readonly person: string;
    readonly rows?: number | undefined;
    readonly turn?: number | undefined;
    readonly older?: readonly CryptoKey[];
    readonly db: PersonDatabase;
    readonly cipher: Cipher;
    /** Puts the root under the newest key; false when that must wait. */
    readonly renewRoot: () => Promise<boolean>;
  },
): KeyRotation {
  const turn = who.turn ?? 0;
  const lockOf = (of: number): string => `doorsill-turn-${who.person}-${who.rows ?? 0}-${of}`;
  const release = locks.share(lockOf(turn));
  const finish = async (settle: () => Promise<void>): Promise<void> => {
    let free = true;
    for (let earlier = Math.max(0, turn - (who.older?.length ?? 0)); earlier < turn; earlier++) {
      free &&= await locks.ifFree(lockOf(earlier), () => Promise.resolve());
    }
    if ((await renewRows(who.db, who.cipher)) && free && (await who.renewRoot())) await settle();
  };
  return { finish, release };
}
