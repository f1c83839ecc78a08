/** Closed clients that have left this tablet, so that they come back when there is news of them. */
import type { EncryptedStore } from '../database/encrypted-store';
import * as v from '../schema';

const listSchema = v.fallback(
  v.list(
    v.object({
      team: v.string,
      /** The client first, then the visits. */
      subjects: v.list(v.string),
      /** There is news: all of it is to be taken in again. */
      back: v.boolean,
    }),
  ),
  [],
);

interface Forgotten {
  readonly team: string;
  readonly subjects: readonly string[];
  readonly back: boolean;
}

export async function readForgotten(store: EncryptedStore): Promise<readonly Forgotten[]> {
  return listSchema(await store.secret('forgotten'));
}

/** The row of the list, to be put into meta. */
export async function forgottenRow(store: EncryptedStore, list: readonly Forgotten[]) {
  return { key: 'forgotten', box: await store.seal('meta', 'forgotten', list) };
}
