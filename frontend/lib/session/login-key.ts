/**
 * Under which key a person's row lies, so that no name is written down. A name
 * is short and colleagues know each other's: a plain hash of it can be looked up
 * in a list. So it is salted for this device and slow, as a password would be.
 */
import { randomBytes, sha256, toBytes, type Bytes } from '../bytes';
import { pbkdf2 } from '../crypto/derive';
import type { Database } from '../database/database';
import { saltRow, type KeySchema } from '../database/rows';
import * as v from '../schema';

/** Proposal, not validated: about a tenth of a second on a tablet, at each sign-in. */
const ROUNDS = 100_000;
const SALT = 'login';

export interface LoginKeys {
  /** The key of a login's row. Rows of before there was a salt are moved under it. */
  readonly of: (login: string) => Promise<string>;
}

/** The same name in other letters or with spaces around it is the same login. */
function plain(login: string): string {
  return login.trim().toLowerCase().normalize('NFKC');
}

/** The key under which a row lay before there was a salt. */
export function unsaltedKey(login: string): Promise<string> {
  return sha256(toBytes(`doorsill login|${plain(login)}`));
}

export function createLoginKeys(db: Database<KeySchema>): LoginKeys {
  /** The last name and its key: one sign-in asks several times. */
  let last: { readonly of: string; readonly key: Promise<string> } | null = null;
  return {
    of: async (login) => {
      const salt = await saltOf(db);
      const name = `${plain(login)}|${hex(salt)}`;
      if (last?.of !== name) last = { of: name, key: pbkdf2(`doorsill login|${plain(login)}`, salt, ROUNDS).then(hex) };
      const key = await last.key;
      await moveRows(db, await unsaltedKey(login), key);
      return key;
    },
  };
}

function hex(bytes: Uint8Array): string {
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** The device's salt, made when there is none yet. */
async function saltOf(db: Database<KeySchema>): Promise<Bytes> {
  const known = v.tryParse(saltRow, await db.read(['salts'], (tx) => tx.objectStore('salts').get(SALT)));
  if (known !== undefined) return known.salt;
  const fresh = randomBytes(16);
  return db.write(['salts'], async (tx) => {
    const now = v.tryParse(saltRow, await tx.objectStore('salts').get(SALT));
    if (now !== undefined) return now.salt;
    await tx.objectStore('salts').put({ key: SALT, salt: fresh });
    return fresh;
  });
}

/** Moves a row, and those that an earlier password locks, all at once. */
async function moveRows(db: Database<KeySchema>, from: string, to: string): Promise<void> {
  const isTheirs = (key: string): boolean => key === from || key.startsWith(`${from}:`);
  const keys = await db.read(['keepers'], (tx) => tx.objectStore('keepers').getAllKeys());
  if (!keys.some(isTheirs)) return;
  await db.write(['keepers'], async (tx) => {
    const keepers = tx.objectStore('keepers');
    for (const row of await keepers.getAll()) {
      if (!isTheirs(row.key)) continue;
      await keepers.put({ ...row, key: to + row.key.slice(from.length) });
      await keepers.delete(row.key);
    }
  });
}
