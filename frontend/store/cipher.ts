/**
 * Everything at rest is AES-256-GCM with a fresh 96-bit nonce for each row. The
 * row's store and key are bound to it, so a row that is changed or put in
 * another's place does not open.
 */
import { join, randomBytes, toBytes, type Bytes } from './bytes';
import { StoreError } from './errors';

const NONCE = 12;
const TAG = 16;

export interface Cipher {
  readonly seal: (place: string, key: string, plain: Bytes) => Promise<Bytes>;
  /** Throws StoreError `damaged` when the row was changed, moved or is another's. */
  readonly open: (place: string, key: string, box: Uint8Array) => Promise<Bytes>;
}

function placeOf(place: string, key: string): Bytes {
  return toBytes(`${place}|${key}`);
}

async function seal(key: CryptoKey, bound: Bytes, plain: Bytes): Promise<Bytes> {
  const iv = randomBytes(NONCE);
  const closed = await crypto.subtle.encrypt({ name: 'AES-GCM', iv, additionalData: bound }, key, plain);
  return join([iv, new Uint8Array(closed)]);
}

async function open(key: CryptoKey, bound: Bytes, box: Uint8Array): Promise<Bytes> {
  if (box.length < NONCE + TAG) throw new StoreError('damaged', 'A record on this tablet is cut short.');
  const bytes = new Uint8Array(box);
  const params = { name: 'AES-GCM', iv: bytes.slice(0, NONCE), additionalData: bound };
  try {
    return new Uint8Array(await crypto.subtle.decrypt(params, key, bytes.slice(NONCE)));
  } catch (cause) {
    throw new StoreError('damaged', 'A record on this tablet was changed or belongs elsewhere; it was not opened.', { cause });
  }
}

/** A cipher over a key that cannot be read out again. */
export function createCipher(key: CryptoKey): Cipher {
  return {
    seal: (place, name, plain) => seal(key, placeOf(place, name), plain),
    open: (place, name, box) => open(key, placeOf(place, name), box),
  };
}

function importKey(raw: Bytes): Promise<CryptoKey> {
  return crypto.subtle.importKey('raw', raw, 'AES-GCM', false, ['encrypt', 'decrypt']);
}

/** A new data key: once for use, once wrapped for the disk. */
export async function newDataKey(wrapping: Bytes, owner: string): Promise<{ readonly key: CryptoKey; readonly wrapped: Bytes }> {
  const raw = randomBytes(32);
  const wrapped = await seal(await importKey(wrapping), placeOf('key', owner), raw);
  return { key: await importKey(raw), wrapped };
}

/** Opens a wrapped data key; StoreError `password` when the password is another. */
export async function unwrapDataKey(wrapping: Bytes, owner: string, wrapped: Uint8Array): Promise<CryptoKey> {
  return importKey(await openWrapped(wrapping, owner, wrapped));
}

/** Wraps the same data key under another password. */
export async function rewrapDataKey(from: Bytes, to: Bytes, owner: string, wrapped: Uint8Array): Promise<Bytes> {
  const raw = await openWrapped(from, owner, wrapped);
  return seal(await importKey(to), placeOf('key', owner), raw);
}

async function openWrapped(wrapping: Bytes, owner: string, wrapped: Uint8Array): Promise<Bytes> {
  try {
    return await open(await importKey(wrapping), placeOf('key', owner), wrapped);
  } catch (cause) {
    throw new StoreError('password', 'This name and password do not open this tablet.', { cause });
  }
}
