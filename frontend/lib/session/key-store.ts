/**
 * Who may unlock this tablet. A keeper row holds the person's keys, wrapped
 * under a key that only the password or a passkey gives. Rows are found by a
 * hash of the login name; no name is written down.
 */
import { sha256, toBytes, type Bytes } from '../bytes';
import { importKey } from '../crypto/cipher';
import type { Database } from '../database/database';
import type { Deriver, DeriveParams } from '../crypto/derive';
import { StoreError } from '../errors';
import { newRing, openRing, rotatedRing, withRoot, wrapRoot, type KeyRing } from '../crypto/key-ring';
import { keeperRow, type KeeperRow, type KeeperSchema } from '../database/rows';
import { leftOf, oneMore, tooSoon } from '../crypto/rate-limit';
import * as v from '../schema';

export interface KeepersDeps {
  readonly db: Database<KeeperSchema>;
  readonly deriver: Deriver;
  readonly now: () => number;
}

export interface Keepers {
  readonly find: (login: string) => Promise<KeeperRow | undefined>;
  /** Every keeper whose row can be read. */
  readonly all: () => Promise<readonly KeeperRow[]>;
  /** Opens the keys; StoreError `password` when the password is another, `wait` when it is too soon to try. A password that the server has just accepted never counts as a wrong try. */
  readonly unlock: (row: KeeperRow, password: string, server?: 'trusted') => Promise<KeyRing>;
  /** Refuses with StoreError `wait` while this login has to wait after wrong tries. */
  readonly mayTry: (login: string) => Promise<void>;
  /** Counts a wrong password that the server has refused. */
  readonly wrong: (login: string) => Promise<void>;
  /** Makes keys for a person who is new on this tablet, under a password that the server knows or that is `local`; a keeper that was there is put away, with its rows. */
  readonly create: (
    login: string,
    person: string,
    tablet: string,
    password: string,
    local?: boolean,
  ) => Promise<{ readonly row: KeeperRow; readonly ring: KeyRing }>;
  /** Notes that the person's stream on this tablet has another name now. */
  readonly rename: (key: string, tablet: string) => Promise<void>;
  /** New keys under a new password; rows of before open until settle. Passkeys end. */
  readonly change: (row: KeeperRow, from: string, to: string) => Promise<KeyRing>;
  /** Every row is under the newest key: the older ones go. */
  readonly settle: (key: string) => Promise<void>;
  /** Wraps the keys under a passkey's secret as well. */
  readonly addPasskey: (
    row: KeeperRow,
    password: string,
    passkey: { readonly id: Bytes; readonly salt: Bytes; readonly secret: CryptoKey },
  ) => Promise<void>;
  readonly unlockByPasskey: (row: KeeperRow, id: Uint8Array, secret: CryptoKey) => Promise<KeyRing>;
  readonly removePasskeys: (key: string) => Promise<void>;
  /** Forgets a person on this tablet for good. */
  readonly forget: (key: string) => Promise<void>;
}

/** The same name in other letters or with spaces around it is the same login. */
export function loginKey(login: string): Promise<string> {
  return sha256(toBytes(`doorsill login|${login.trim().toLowerCase().normalize('NFKC')}`));
}

export function sameBytes(a: Uint8Array, b: Uint8Array): boolean {
  return a.length === b.length && a.every((byte, at) => byte === b[at]);
}

function forgiven(row: KeeperRow): KeeperRow {
  const { tries: _, ...rest } = row;
  return rest;
}

function withoutPasskeys(row: KeeperRow): KeeperRow {
  const { passkeys: _, ...rest } = row;
  return rest;
}

export function createKeepers({ db, deriver, now }: KeepersDeps): Keepers {
  const keep = (row: KeeperRow): Promise<unknown> => db.write(['keepers'], (tx) => tx.objectStore('keepers').put(row));

  /** Changes a row as it stands on the disk, where another tab may have changed it. */
  const change = async (key: string, how: (row: KeeperRow) => KeeperRow): Promise<void> => {
    await db.write(['keepers'], async (tx) => {
      const row = await tx.objectStore('keepers').get(key);
      if (row !== undefined) await tx.objectStore('keepers').put(how(row));
    });
  };

  const read = async (key: string): Promise<KeeperRow | undefined> => {
    const row = await db.read(['keepers'], (tx) => tx.objectStore('keepers').get(key));
    if (row === undefined) return undefined;
    const keeper = v.fitting(keeperRow, row);
    if (keeper !== undefined) return keeper;
    throw new StoreError('damaged', 'What unlocks this tablet for you was changed and cannot be used. Tell your administrator.');
  };

  const wrapping = async (password: string, params: DeriveParams): Promise<CryptoKey> => {
    const bytes = await deriver.derive(password, params);
    return importKey(bytes).finally(() => {
      bytes.fill(0);
    });
  };

  const fresh = async (password: string): Promise<{ readonly params: DeriveParams; readonly key: CryptoKey }> => {
    const { bytes, params } = await deriver.fresh(password);
    return {
      params,
      key: await importKey(bytes).finally(() => {
        bytes.fill(0);
      }),
    };
  };

  const mayTry = async (key: string): Promise<void> => {
    const row = await read(key);
    const { ms, tries } = leftOf(row?.tries, now());
    // A clock that was set back is noted, or the wait would begin anew at every try.
    if (tries !== row?.tries) await change(key, (one) => ({ ...one, tries }));
    if (ms > 0) throw tooSoon(ms);
  };

  const wrong = (key: string): Promise<void> => change(key, (row) => ({ ...row, tries: oneMore(row.tries, now()) }));

  /** Runs work that a wrong password makes fail, and counts when it does. */
  const counted = async <T>(row: KeeperRow, work: () => Promise<T>): Promise<T> => {
    await mayTry(row.key);
    try {
      const done = await work();
      await change(row.key, forgiven);
      return done;
    } catch (error) {
      if (error instanceof StoreError && error.code === 'password') await wrong(row.key);
      throw error;
    }
  };

  return {
    find: async (login) => read(await loginKey(login)),
    all: async () => (await db.read(['keepers'], (tx) => tx.objectStore('keepers').getAll())).filter((row) => v.fitting(keeperRow, row)),
    mayTry: async (login) => mayTry(await loginKey(login)),
    wrong: async (login) => wrong(await loginKey(login)),
    unlock: (row, password, server) => {
      const open = async () =>
        withRoot(await wrapping(password, row.params), row.person, row.wrapped, (raw) => openRing(row.person, raw, row.data ?? []));
      return server === 'trusted' ? open().finally(() => change(row.key, forgiven)) : counted(row, open);
    },
    create: async (login, person, tablet, password, local = false) => {
      const key = await loginKey(login);
      const before = await db.read(['keepers'], (tx) => tx.objectStore('keepers').get(key));
      const taken = await db.read(['keepers'], (tx) => tx.objectStore('keepers').index('person').count(person));
      const { params, key: under } = await fresh(password);
      const { ring, boxes } = await newRing(under, person);
      const row: KeeperRow = {
        key,
        person,
        tablet,
        params,
        ...boxes,
        ...(taken === 0 ? {} : { rows: taken }),
        ...(local ? { local: 1 } : {}),
      };
      await db.write(['keepers'], async (tx) => {
        // What is locked with a forgotten password stays: it may come back to mind.
        if (before !== undefined) await tx.objectStore('keepers').put({ ...before, key: `${key}:${taken}:${before.person}` });
        await tx.objectStore('keepers').put(row);
      });
      return { row, ring };
    },
    rename: (key, tablet) => change(key, (row) => ({ ...row, tablet })),
    change: (row, from, to) =>
      counted(row, async () => {
        const under = await fresh(to);
        const old = { wrapping: await wrapping(from, row.params), person: row.person, wrapped: row.wrapped, data: row.data ?? [] };
        const { ring, boxes } = await rotatedRing(old, under.key);
        const { passkeys: _, tries: __, local: ___, ...rest } = row;
        await keep({ ...rest, params: under.params, ...boxes, turn: (row.turn ?? 0) + 1 });
        return ring;
      }),
    settle: (key) => change(key, (row) => ({ ...row, data: (row.data ?? []).slice(0, 1) })),
    addPasskey: (row, password, { id, salt, secret }) =>
      counted(row, async () => {
        const under = await wrapping(password, row.params);
        const wrapped = await withRoot(under, row.person, row.wrapped, (raw) => wrapRoot(secret, row.person, raw));
        await change(row.key, (one) => ({ ...one, passkeys: [...(one.passkeys ?? []), { id, salt, wrapped }] }));
      }),
    unlockByPasskey: async (row, id, secret) => {
      const passkey = row.passkeys?.find((one) => sameBytes(one.id, id));
      if (passkey === undefined) throw new StoreError('password', 'This passkey does not open this tablet.');
      const ring = await withRoot(secret, row.person, passkey.wrapped, (raw) => openRing(row.person, raw, row.data ?? []));
      await change(row.key, forgiven);
      return ring;
    },
    removePasskeys: (key) => change(key, withoutPasskeys),
    forget: async (key) => {
      await db.write(['keepers'], (tx) => tx.objectStore('keepers').delete(key));
    },
  };
}
