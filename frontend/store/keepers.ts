/**
 * Who may unlock this tablet. A keeper row holds the person's data key, wrapped
 * under a key that only the password gives. Rows are found by a hash of the
 * login name; no name is written down.
 */
import * as v from 'valibot';
import { sha256, toBytes } from './bytes';
import { newDataKey, rewrapDataKey, unwrapDataKey } from './cipher';
import type { Database } from './db';
import type { Deriver } from './derive';
import { StoreError } from './errors';
import { keeperRow, type KeeperRow, type KeeperSchema } from './rows';

export interface Keepers {
  readonly find: (login: string) => Promise<KeeperRow | undefined>;
  /** Opens the data key; StoreError `password` when the password is another. */
  readonly unlock: (row: KeeperRow, password: string) => Promise<CryptoKey>;
  /** Makes a data key for a person who is new on this tablet. */
  readonly create: (login: string, person: string, tablet: string, password: string) => Promise<CryptoKey>;
  /** Notes that the person's stream on this tablet has another name now. */
  readonly rename: (row: KeeperRow, tablet: string) => Promise<void>;
  /** Puts the same data key under a new password. */
  readonly change: (row: KeeperRow, login: string, from: string, to: string) => Promise<CryptoKey>;
}

/** The same name in other letters or with spaces around it is the same login. */
export function loginKey(login: string): Promise<string> {
  return sha256(toBytes(`doorsill login|${login.trim().toLowerCase().normalize('NFKC')}`));
}

export function createKeepers(db: Database<KeeperSchema>, deriver: Deriver): Keepers {
  const keep = async (row: KeeperRow): Promise<void> => {
    await db.write(['keepers'], (tx) => tx.objectStore('keepers').put(row));
  };

  return {
    find: async (login) => {
      const key = await loginKey(login);
      const row = await db.read(['keepers'], (tx) => tx.objectStore('keepers').get(key));
      if (row === undefined) return undefined;
      const parsed = v.safeParse(keeperRow, row);
      if (parsed.success) return parsed.output;
      throw new StoreError('damaged', 'What unlocks this tablet for you was changed and cannot be used. Tell your administrator.');
    },
    unlock: async (row, password) => unwrapDataKey(await deriver.derive(password, row.params), row.person, row.wrapped),
    create: async (login, person, tablet, password) => {
      const { bytes, params } = await deriver.fresh(password);
      const { key, wrapped } = await newDataKey(bytes, person);
      await keep({ key: await loginKey(login), person, tablet, params, wrapped });
      return key;
    },
    rename: (row, tablet) => keep({ ...row, tablet }),
    change: async (row, login, from, to) => {
      const old = await deriver.derive(from, row.params);
      const key = await unwrapDataKey(old, row.person, row.wrapped);
      const { bytes, params } = await deriver.fresh(to);
      const wrapped = await rewrapDataKey(old, bytes, row.person, row.wrapped);
      await keep({ ...row, key: await loginKey(login), params, wrapped });
      return key;
    },
  };
}
