/**
 * What was found of the rows: changed outside the program, as the root over them
 * says, or put back as a whole, as the server notices when it knows more of this
 * tablet than the tablet itself. It is told until the person has read it.
 */
import { signal, type ReadonlySignal } from '@preact/signals';
import type { EncryptedStore } from '../database/encrypted-store';
import { ALTERED } from '../database/rows';

/** Since when each is known, by this tablet's clock; empty when nothing was found. */
export interface Altered {
  readonly rows: string;
  readonly whole: string;
}

export interface Alterations {
  readonly found: ReadonlySignal<Altered>;
  readonly read: () => Promise<void>;
  /** The person has read of one of the two; the other is still told. */
  readonly acknowledge: (which: keyof Altered) => Promise<void>;
}

export async function openAlterations(store: EncryptedStore): Promise<Alterations> {
  const found = signal<Altered>({ rows: '', whole: '' });
  const read = async (): Promise<void> => {
    const [rows, whole] = [await store.text(ALTERED.rows), await store.text(ALTERED.whole)];
    found.value = { rows, whole };
  };
  await read();
  return {
    found,
    read,
    acknowledge: async (which) => {
      await store.db.write(['meta'], (tx) => tx.objectStore('meta').delete(ALTERED[which]));
      await read();
    },
  };
}
