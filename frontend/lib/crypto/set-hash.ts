/**
 * A hash over a set of rows that moves with each row that is put in or taken
 * out, without reading the others: MSet-XOR-Hash (Clarke, Devadas, van Dijk,
 * Gassend and Suh, "Incremental Multiset Hash Functions and Their Application
 * to Memory Integrity Checking", 2003) with HMAC-SHA-256. The sum is masked
 * under a fresh nonce wherever it is kept: who saw bare sums could solve for
 * another set with the same one.
 *
 * It answers at once. The browser's own HMAC answers later, and a transaction
 * of IndexedDB is over by then.
 */
import { hmac } from '@noble/hashes/hmac.js';
import { sha256 } from '@noble/hashes/sha2.js';
import { join, randomBytes, toBytes, type Bytes } from '../bytes';

const SIZE = 32;
const NONCE = 16;

/** The sum of a set; that of no rows is all zero. */
export type Sum = Uint8Array<ArrayBuffer>;

export interface SetHash {
  /** What one row adds to the sum, and takes away again. */
  readonly element: (row: string) => Sum;
  readonly seal: (sum: Sum) => Bytes;
  /** The sum in a box, or null when this key did not seal it or it was changed. */
  readonly open: (box: Uint8Array) => Sum | null;
}

export function emptySum(): Sum {
  return new Uint8Array(SIZE);
}

/** Adds an element to a sum that lacks it, takes it from one that has it. */
export function toggle(sum: Sum, element: Sum): void {
  for (let at = 0; at < SIZE; at++) sum[at] = (sum[at] ?? 0) ^ (element[at] ?? 0);
}

export function sameSum(a: Sum, b: Sum): boolean {
  let differing = 0;
  for (let at = 0; at < SIZE; at++) differing |= (a[at] ?? 0) ^ (b[at] ?? 0);
  return differing === 0;
}

/** A key from which the keys of a set hash are made, and which cannot be read out. */
export function importSetKey(raw: Bytes): Promise<CryptoKey> {
  return crypto.subtle.importKey('raw', raw, 'HKDF', false, ['deriveBits']);
}

/** `about` says whose rows they are. */
export async function createSetHash(key: CryptoKey, about: string): Promise<SetHash> {
  const params = { name: 'HKDF', hash: 'SHA-256', salt: new Uint8Array(SIZE), info: toBytes(`doorsill-rows|${about}`) };
  const raw = new Uint8Array(await crypto.subtle.deriveBits(params, key, 3 * SIZE * 8));
  const [elements, masks, tags] = [0, 1, 2].map((at) => hmac.create(sha256, raw.subarray(at * SIZE, (at + 1) * SIZE)));
  raw.fill(0);
  if (elements === undefined || masks === undefined || tags === undefined) throw new Error('three keys are derived');
  const by = (keyed: typeof elements, bytes: Uint8Array): Sum => new Uint8Array(keyed.clone().update(bytes).digest());
  const masked = (sum: Sum, nonce: Uint8Array): Sum => {
    const one = by(masks, nonce);
    toggle(one, sum);
    return one;
  };
  return {
    element: (row) => by(elements, toBytes(row)),
    seal: (sum) => {
      const nonce = randomBytes(NONCE);
      const body = join([nonce, masked(sum, nonce)]);
      return join([body, by(tags, body)]);
    },
    open: (box) => {
      if (box.length !== NONCE + 2 * SIZE) return null;
      const body = box.slice(0, NONCE + SIZE);
      const tag = new Uint8Array(box.slice(NONCE + SIZE));
      if (!sameSum(by(tags, body), tag)) return null;
      return masked(new Uint8Array(body.slice(NONCE)), body.slice(0, NONCE));
    },
  };
}
