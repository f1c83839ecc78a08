/**
 * A person's keys on this tablet. Rows are sealed with a data key. Data keys lie
 * sealed under a root key, and the root key lies wrapped under what only the
 * person can give: the password, and passkeys if they want. Keys in use cannot be
 * read out; raw ones live for the length of a call.
 */
import { randomBytes, type Bytes } from '../bytes';
import { StoreError } from '../errors';
import { importKey, seal, tryOpen } from './cipher';
import { importSetKey } from './set-hash';

/** What seals rows, and what older rows still open with. */
export interface KeyRing {
  readonly key: CryptoKey;
  readonly older: readonly CryptoKey[];
  /** For each of these keys, the one in use first, what the hash over all rows is made with; see set-hash.ts. */
  readonly setKeys: readonly CryptoKey[];
}

/** The sealed half of a ring, as it lies on the disk. */
interface RingBoxes {
  /** The root key under a wrapping key. */
  readonly wrapped: Bytes;
  /** Data keys under the root key, the one in use first. Where there are none, the root key itself seals rows. */
  readonly data: Bytes[];
}

const rootOf = (person: string) => `key|${person}`;
const dataOf = (person: string) => `data-key|${person}`;

/** Runs work with raw key bytes and wipes them afterwards. */
async function wiped<T>(raw: Bytes, work: (raw: Bytes) => Promise<T>): Promise<T> {
  try {
    return await work(raw);
  } finally {
    raw.fill(0);
  }
}

/** Opens a wrapped root key for the length of work; StoreError `password` when the wrapping key is another. */
export async function withRoot<T>(wrapping: CryptoKey, person: string, wrapped: Uint8Array, work: (raw: Bytes) => Promise<T>): Promise<T> {
  const raw = await tryOpen(wrapping, rootOf(person), wrapped);
  if (raw === null) throw new StoreError('password', 'This name and password do not open this tablet.');
  return wiped(raw, work);
}

/** Wraps a root key once more. */
export function wrapRoot(wrapping: CryptoKey, person: string, raw: Bytes): Promise<Bytes> {
  return seal(wrapping, rootOf(person), raw);
}

async function rawDataKeys(root: CryptoKey, person: string, boxes: readonly Uint8Array[]): Promise<readonly Bytes[]> {
  return Promise.all(
    boxes.map(async (box) => {
      const raw = await tryOpen(root, dataOf(person), box);
      if (raw === null)
        throw new StoreError('damaged', 'What unlocks this tablet for you was changed and cannot be used. Tell your administrator.');
      return raw;
    }),
  );
}

async function ringOf(raws: readonly Bytes[]): Promise<KeyRing> {
  const [[key, ...older], setKeys] = await Promise.all([Promise.all(raws.map(importKey)), Promise.all(raws.map(importSetKey))]);
  for (const raw of raws) raw.fill(0);
  if (key === undefined) throw new StoreError('damaged', 'There is no key for the rows on this tablet.');
  return { key, older, setKeys };
}

/** The ring that a raw root key opens. */
export async function openRing(person: string, raw: Bytes, data: readonly Uint8Array[]): Promise<KeyRing> {
  if (data.length === 0) return { key: await importKey(raw), older: [], setKeys: [await importSetKey(raw)] };
  return ringOf(await rawDataKeys(await importKey(raw), person, data));
}

/** A ring for a person who is new on this tablet. */
export async function newRing(wrapping: CryptoKey, person: string): Promise<{ readonly ring: KeyRing; readonly boxes: RingBoxes }> {
  return makeRing(wrapping, person, []);
}

/**
 * A new root and a new data key under another wrapping key; the data keys of
 * before come along until every row is sealed anew.
 */
export function rotatedRing(
  from: { readonly wrapping: CryptoKey; readonly person: string; readonly wrapped: Uint8Array; readonly data: readonly Uint8Array[] },
  to: CryptoKey,
): Promise<{ readonly ring: KeyRing; readonly boxes: RingBoxes }> {
  return withRoot(from.wrapping, from.person, from.wrapped, async (raw) => {
    const before = from.data.length === 0 ? [raw.slice()] : await rawDataKeys(await importKey(raw), from.person, from.data);
    return makeRing(to, from.person, before);
  });
}

function makeRing(
  wrapping: CryptoKey,
  person: string,
  before: readonly Bytes[],
): Promise<{ readonly ring: KeyRing; readonly boxes: RingBoxes }> {
  return wiped(randomBytes(32), async (raw) => {
    const root = await importKey(raw);
    const raws = [randomBytes(32), ...before];
    const data = await Promise.all(raws.map((one) => seal(root, dataOf(person), one)));
    const boxes = { wrapped: await wrapRoot(wrapping, person, raw), data };
    return { ring: await ringOf(raws), boxes };
  });
}
