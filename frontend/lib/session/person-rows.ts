/** A person's rows, looked at whole before anything of them is used. */
import { createCipher, type Cipher } from '../crypto/cipher';
import { createSetHash } from '../crypto/set-hash';
import { createDatabase, type DatabaseNotices } from '../database/database';
import type { PersonDatabase } from '../database/guarded';
import { openRows, renewRoot, type RowKeys } from '../database/row-root';
import { personPlan } from '../database/rows';
import { StoreError } from '../errors';

export interface WorkspaceKeys {
  readonly person: string;
  readonly tablet: string;
  readonly key: CryptoKey;
  /** Keys that rows of before still open with. */
  readonly older?: readonly CryptoKey[];
  /** For each of them what the root of all rows is made with; see KeyRing. */
  readonly setKeys: readonly CryptoKey[];
  /** Which of the person's databases; see KeyRow. */
  readonly rows?: number | undefined;
  /** Counts changes of the keys. */
  readonly turn?: number | undefined;
}

export interface PersonRows {
  readonly db: PersonDatabase;
  readonly cipher: Cipher;
  /** Puts the root under the newest key; false when that must wait. */
  readonly renewRoot: () => Promise<boolean>;
}

export async function openPersonRows(
  world: { readonly notices: () => DatabaseNotices; readonly now: () => Date },
  who: WorkspaceKeys,
): Promise<PersonRows> {
  const db = createDatabase(personPlan(who.person, who.rows), world.notices());
  try {
    const cipher = createCipher(who.person, who.key, who.older);
    const [first, ...older] = await Promise.all(who.setKeys.map((key) => createSetHash(key, who.person)));
    if (first === undefined) throw new StoreError('damaged', 'There is no key for the rows on this tablet.');
    const keys: RowKeys = { cipher, hashes: [first, ...older], tablet: who.tablet, turn: who.turn ?? 0, now: world.now };
    return { db: await openRows(db, keys), cipher, renewRoot: () => renewRoot(db, keys) };
  } catch (error) {
    db.close();
    throw error;
  }
}
