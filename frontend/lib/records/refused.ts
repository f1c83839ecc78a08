/** Entries of this tablet that the server has set aside. */
import type { EncryptedStore } from '../database/encrypted-store';
import * as v from '../schema';
import type { Refused } from './types';

const refusedList = v.fallback(
  v.list(
    v.object({
      ref: v.string,
      kind: v.string,
      subject: v.string,
      item: v.optional(v.string),
      at: v.string,
      code: v.string,
      hint: v.string,
      field: v.string,
      settled: v.optional(v.object({ at: v.string, by: v.string, note: v.string })),
    }),
  ),
  [],
);

export async function readRefused(store: EncryptedStore): Promise<readonly Refused[]> {
  return refusedList(await store.secret('refused'));
}
