/**
 * What other tablets of this person were last known to hold when this one was
 * set up. If this is the same device, whose storage was cleared, those entries
 * are lost, and only the person can tell.
 */
import { signal, type ReadonlySignal } from '@preact/signals';
import type { EncryptedStore } from '../database/encrypted-store';
import type { TabletHolding } from '../model.gen';
import * as v from '../schema';

const listSchema = v.fallback(
  v.list(
    v.object({
      id: v.string,
      label: v.string,
      waiting: v.number,
      oldest: v.optional(v.string),
    }),
  ),
  [],
);

export interface Holdings {
  readonly list: ReadonlySignal<readonly TabletHolding[]>;
  /** Keeps a list until the person says that they have read it; an empty one ends it. */
  readonly keep: (list: readonly TabletHolding[]) => Promise<void>;
}

export async function openHoldings(store: EncryptedStore): Promise<Holdings> {
  const list = signal<readonly TabletHolding[]>(listSchema(await store.secret('left')));
  return {
    list,
    keep: async (next) => {
      await store.keepSecret('left', next);
      list.value = next;
    },
  };
}
