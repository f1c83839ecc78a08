/**
 * Who may unlock this tablet. A key row holds the person's keys, wrapped
 * under a key that only the password or a passkey gives. Rows are found by a
 * salted hash of the login name; no name is written down.
 */
import { sameBytes, type Bytes } from '../bytes';
import { importKey } from '../crypto/cipher';
import type { Deriver, DeriveParams } from '../crypto/derive';
import { newRing, openRing, rotatedRing, withRoot, wrapRoot, type KeyRing } from '../crypto/key-ring';
import { remainingWait, countFailure, rateLimited } from '../crypto/rate-limit';
import type { Database } from '../database/database';
import { scramble, scrambled } from '../database/erase';
import { keyRowSchema, type KeyRow, type KeySchema } from '../database/rows';
import { StoreError } from '../errors';
import * as v from '../schema';
import { createLoginKeys, type LoginKeys } from './login-key';

interface KeyStoreDeps {
  readonly db: Database<KeySchema>;
  readonly deriver: Deriver;
  readonly now: () => number;
}

export interface KeyStore {
  readonly find: (login: string) => Promise<KeyRow | undefined>;
  /** Every row that can be read. */
  readonly all: () => Promise<readonly KeyRow[]>;
  /** Opens the keys; StoreError `password` when the password is another, `wait` when it is too soon to try. A password that the server has just accepted never counts as a wrong try. */
  readonly unlock: (row: KeyRow, password: string, server?: 'trusted') => Promise<KeyRing>;
  /** Refuses with StoreError `wait` while this login has to wait after wrong passwords. */
  readonly mayTry: (login: string) => Promise<void>;
  /** Counts a wrong password that the server has refused. */
  readonly wrong: (login: string) => Promise<void>;
  /** Makes keys for a person who is new on this tablet, under a password that the server knows or that is `local`; a row that was there stays locked, with what it opens. */
  readonly create: (
    login: string,
    person: string,
    tablet: string,
    password: string,
    local?: boolean,
  ) => Promise<{ readonly row: KeyRow; readonly ring: KeyRing }>;
  /** Notes that the person's stream on this tablet has another name now. */
  readonly rename: (key: string, tablet: string) => Promise<void>;
  /** New keys under a new password; rows of before open until settle. Passkeys end. */
  readonly change: (row: KeyRow, from: string, to: string) => Promise<KeyRing>;
  /** Every row is under the newest key: the older ones go. */
  readonly settle: (key: string) => Promise<void>;
  /** Wraps the keys under a passkey's secret as well. */
  readonly addPasskey: (
    row: KeyRow,
    password: string,
    passkey: { readonly id: Bytes; readonly salt: Bytes; readonly secret: CryptoKey },
  ) => Promise<void>;
  readonly unlockByPasskey: (row: KeyRow, id: Uint8Array, secret: CryptoKey) => Promise<KeyRing>;
  readonly removePasskeys: (key: string) => Promise<void>;
  /** Forgets a person on this tablet for good: the row is overwritten, then deleted; where it was the last, so is the database. */
  readonly forget: (key: string) => Promise<void>;
  /** Whether nobody can unlock this tablet, not even by a row that cannot be read. */
  readonly isEmpty: () => Promise<boolean>;
}

function forgiven(row: KeyRow): KeyRow {
  const { tries: _, ...rest } = row;
  return rest;
}

function withoutPasskeys(row: KeyRow): KeyRow {
  const { passkeys: _, ...rest } = row;
  return rest;
}

/** The rows as they lie on the disk. */
interface KeyRows {
  readonly read: (key: string) => Promise<KeyRow | undefined>;
  readonly put: (row: KeyRow) => Promise<unknown>;
  /** Changes a row as it stands on the disk, where another tab may have changed it. */
  readonly change: (key: string, how: (row: KeyRow) => KeyRow) => Promise<void>;
}

function createKeyRows(db: Database<KeySchema>): KeyRows {
  return {
    put: (row) => db.write(['keepers'], (tx) => tx.objectStore('keepers').put(row)),
    change: async (key, how) => {
      await db.write(['keepers'], async (tx) => {
        const row = await tx.objectStore('keepers').get(key);
        if (row !== undefined) await tx.objectStore('keepers').put(how(row));
      });
    },
    read: async (key) => {
      const row = await db.read(['keepers'], (tx) => tx.objectStore('keepers').get(key));
      if (row === undefined) return undefined;
      const keyRow = v.tryParse(keyRowSchema, row);
      if (keyRow !== undefined) return keyRow;
      throw new StoreError('damaged', 'What unlocks this tablet for you was changed and cannot be used. Tell your administrator.');
    },
  };
}

/** Waits after wrong passwords. */
interface Attempts {
  readonly mayTry: (key: string) => Promise<void>;
  readonly wrong: (key: string) => Promise<void>;
  /** Runs work that a wrong password makes fail, and counts when it does. */
  readonly counted: <T>(row: KeyRow, work: () => Promise<T>) => Promise<T>;
}

function createAttempts(rows: KeyRows, now: () => number): Attempts {
  const mayTry = async (key: string): Promise<void> => {
    const row = await rows.read(key);
    const { ms, tries } = remainingWait(row?.tries, now());
    // A clock that was set back is noted, or the wait would begin anew at every try.
    if (tries !== row?.tries) await rows.change(key, (one) => ({ ...one, tries }));
    if (ms > 0) throw rateLimited(ms);
  };
  const wrong = (key: string): Promise<void> => rows.change(key, (row) => ({ ...row, tries: countFailure(row.tries, now()) }));
  return {
    mayTry,
    wrong,
    counted: async (row, work) => {
      await mayTry(row.key);
      try {
        const done = await work();
        await rows.change(row.key, forgiven);
        return done;
      } catch (error) {
        if (error instanceof StoreError && error.code === 'password') await wrong(row.key);
        throw error;
      }
    },
  };
}

/** The bytes that a key is made of do not outlive it. */
function keyFrom(bytes: Bytes): Promise<CryptoKey> {
  return importKey(bytes).finally(() => {
    bytes.fill(0);
  });
}

async function wrapping(deriver: Deriver, password: string, params: DeriveParams): Promise<CryptoKey> {
  return keyFrom(await deriver.derive(password, params));
}

async function freshWrapping(deriver: Deriver, password: string): Promise<{ readonly params: DeriveParams; readonly key: CryptoKey }> {
  const { bytes, params } = await deriver.fresh(password);
  return { params, key: await keyFrom(bytes) };
}

const ringOf = (row: KeyRow, under: CryptoKey, wrapped: Bytes): Promise<KeyRing> =>
  withRoot(under, row.person, wrapped, (raw) => openRing(row.person, raw, row.data ?? []));

export function createKeyStore({ db, deriver, now }: KeyStoreDeps): KeyStore {
  const rows = createKeyRows(db);
  const { mayTry, wrong, counted } = createAttempts(rows, now);
  const logins = createLoginKeys(db);
  return {
    find: async (login) => rows.read(await logins.of(login)),
    all: async () =>
      (await db.read(['keepers'], (tx) => tx.objectStore('keepers').getAll())).filter((row) => v.tryParse(keyRowSchema, row)),
    mayTry: async (login) => mayTry(await logins.of(login)),
    wrong: async (login) => wrong(await logins.of(login)),
    unlock: (row, password, server) => {
      const open = async () => ringOf(row, await wrapping(deriver, password, row.params), row.wrapped);
      return server === 'trusted' ? open().finally(() => rows.change(row.key, forgiven)) : counted(row, open);
    },
    create: (login, person, tablet, password, local = false) =>
      createKeys({ db, deriver, logins }, { login, person, tablet, password, local }),
    rename: (key, tablet) => rows.change(key, (row) => ({ ...row, tablet })),
    change: (row, from, to) => counted(row, () => changePassword(rows, deriver, row, from, to)),
    settle: (key) => rows.change(key, (row) => ({ ...row, data: (row.data ?? []).slice(0, 1) })),
    addPasskey: (row, password, { id, salt, secret }) =>
      counted(row, async () => {
        const under = await wrapping(deriver, password, row.params);
        const wrapped = await withRoot(under, row.person, row.wrapped, (raw) => wrapRoot(secret, row.person, raw));
        await rows.change(row.key, (one) => ({ ...one, passkeys: [...(one.passkeys ?? []), { id, salt, wrapped }] }));
      }),
    unlockByPasskey: async (row, id, secret) => {
      const passkey = row.passkeys?.find((one) => sameBytes(one.id, id));
      if (passkey === undefined) throw new StoreError('password', 'This passkey does not open this tablet.');
      const ring = await ringOf(row, secret, passkey.wrapped);
      await rows.change(row.key, forgiven);
      return ring;
    },
    removePasskeys: (key) => rows.change(key, withoutPasskeys),
    forget: (key) => forget(db, key),
    isEmpty: async () => (await db.read(['keepers'], (tx) => tx.objectStore('keepers').count())) === 0,
  };
}

async function forget(db: Database<KeySchema>, key: string): Promise<void> {
  await db.write(['keepers'], async (tx) => {
    const row = await tx.objectStore('keepers').get(key);
    if (row !== undefined) await tx.objectStore('keepers').put(scrambled(row));
  });
  const left = await db.write(['keepers'], async (tx) => {
    await tx.objectStore('keepers').delete(key);
    return tx.objectStore('keepers').count();
  });
  if (left > 0) return;
  await db.write(['salts'], (tx) => scramble(tx, 'salts'));
  await db.destroy();
}

interface NewKeys {
  readonly login: string;
  readonly person: string;
  readonly tablet: string;
  readonly password: string;
  readonly local: boolean;
}

async function createKeys(
  { db, deriver, logins }: Pick<KeyStoreDeps, 'db' | 'deriver'> & { readonly logins: LoginKeys },
  { login, person, tablet, password, local }: NewKeys,
): Promise<{ readonly row: KeyRow; readonly ring: KeyRing }> {
  const key = await logins.of(login);
  const before = await db.read(['keepers'], (tx) => tx.objectStore('keepers').get(key));
  const taken = await db.read(['keepers'], (tx) => tx.objectStore('keepers').index('person').count(person));
  const { params, key: under } = await freshWrapping(deriver, password);
  const { ring, boxes } = await newRing(under, person);
  const row: KeyRow = {
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
}

async function changePassword(rows: KeyRows, deriver: Deriver, row: KeyRow, from: string, to: string): Promise<KeyRing> {
  const under = await freshWrapping(deriver, to);
  const old = { wrapping: await wrapping(deriver, from, row.params), person: row.person, wrapped: row.wrapped, data: row.data ?? [] };
  const { ring, boxes } = await rotatedRing(old, under.key);
  const { passkeys: _, tries: __, local: ___, ...rest } = row;
  await rows.put({ ...rest, params: under.params, ...boxes, turn: (row.turn ?? 0) + 1 });
  return ring;
}
