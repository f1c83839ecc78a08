/**
 * Everything at rest is AES-256-GCM with a fresh 96-bit nonce for each row. Whose
 * row it is, its store, its key (for an entry: tablet and number) and the schema
 * of rows are bound to it, so a row that is changed or put in another's place
 * does not open.
 */
import { join, randomBytes, toBytes, type Bytes } from '../bytes';
import { StoreError } from '../errors';

const NONCE = 12;
const TAG = 16;
/**
 * Raised when what is bound to a row, or what guards it, changes: 1 was bound to
 * store and key alone, 2 also to the person, 3 is under the root of all rows
 * (database/row-root.ts). Rows of an older schema open until they are sealed anew.
 */
const ROW_SCHEMA = 3;

export interface Cipher {
  readonly seal: (place: string, key: string, plain: Bytes) => Promise<Bytes>;
  /** Throws StoreError `damaged` when the row was changed, moved or is another's. */
  readonly open: (place: string, key: string, box: Uint8Array) => Promise<Bytes>;
  /** The same row under the key and schema of today; null when it is so already, or does not open at all. */
  readonly renew: (place: string, key: string, box: Uint8Array) => Promise<Bytes | null>;
  /** Whether a row is of an older schema; null when it does not open at all. */
  readonly isOlder: (place: string, key: string, box: Uint8Array) => Promise<boolean | null>;
}

/** Closes bytes under a key, bound to a text. */
export async function seal(key: CryptoKey, bound: string, plain: Bytes): Promise<Bytes> {
  const iv = randomBytes(NONCE);
  const closed = await crypto.subtle.encrypt({ name: 'AES-GCM', iv, additionalData: toBytes(bound) }, key, plain);
  return join([iv, new Uint8Array(closed)]);
}

/** Opens a box, or gives null when it is not this key's, was changed or is bound to something else. */
export async function tryOpen(key: CryptoKey, bound: string, box: Uint8Array): Promise<Bytes | null> {
  if (box.length < NONCE + TAG) return null;
  const bytes = new Uint8Array(box);
  const params = { name: 'AES-GCM', iv: bytes.slice(0, NONCE), additionalData: toBytes(bound) };
  return crypto.subtle.decrypt(params, key, bytes.slice(NONCE)).then(
    (plain) => new Uint8Array(plain),
    () => null,
  );
}

/** A key that can be used and not read out. */
export function importKey(raw: Bytes): Promise<CryptoKey> {
  return crypto.subtle.importKey('raw', raw, 'AES-GCM', false, ['encrypt', 'decrypt']);
}

/** A cipher over a person's keys: the first seals, the older ones still open. */
export function createCipher(person: string, key: CryptoKey, older: readonly CryptoKey[] = []): Cipher {
  const boundOf = (place: string, name: string, schema = ROW_SCHEMA) =>
    schema === 1 ? `${place}|${name}` : `doorsill-row|${schema}|${person}|${place}|${name}`;
  const openBy = async (place: string, name: string, box: Uint8Array, schemas: readonly number[]): Promise<Bytes | null> => {
    for (const one of [key, ...older]) {
      for (const schema of schemas) {
        const plain = await tryOpen(one, boundOf(place, name, schema), box);
        if (plain !== null) return plain;
      }
    }
    return null;
  };
  const openOlder = (place: string, name: string, box: Uint8Array) => openBy(place, name, box, [ROW_SCHEMA, 2, 1]);
  return {
    seal: (place, name, plain) => seal(key, boundOf(place, name), plain),
    open: async (place, name, box) => {
      const plain = (await tryOpen(key, boundOf(place, name), box)) ?? (await openOlder(place, name, box));
      if (plain === null) throw new StoreError('damaged', 'A record on this tablet was changed or belongs elsewhere; it was not opened.');
      return plain;
    },
    renew: async (place, name, box) => {
      if ((await tryOpen(key, boundOf(place, name), box)) !== null) return null;
      const plain = await openOlder(place, name, box);
      return plain === null ? null : seal(key, boundOf(place, name), plain);
    },
    isOlder: async (place, name, box) => {
      if ((await openBy(place, name, box, [ROW_SCHEMA])) !== null) return false;
      return (await openBy(place, name, box, [2, 1])) === null ? null : true;
    },
  };
}
