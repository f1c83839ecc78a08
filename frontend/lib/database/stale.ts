/**
 * A subject's row says whether its snapshot knows all of its events. It is marked
 * in the transaction that writes an event, and cleared by whoever folded them all.
 */
import type { IDBPObjectStore } from 'idb';
import { newId } from '../bytes';
import type { PersonDatabase } from './guarded';
import type { PersonSchema, SubjectRow } from './rows';

type SubjectStore = Pick<IDBPObjectStore<PersonSchema, ('events' | 'subjects' | 'meta')[], 'subjects', 'readwrite'>, 'get' | 'put'>;

export interface Marks {
  readonly before: string | undefined;
  readonly after: string;
}

/** Marks a subject to be folded again, in the transaction that changed it. */
export async function markStale(store: SubjectStore, subject: string): Promise<Marks> {
  const row = await store.get(subject);
  const after = newId();
  await store.put({ ...row, key: subject, stale: 1, mark: after });
  return { before: row?.mark, after };
}

interface FreshRows {
  /** Writes the row unless more came in since its mark; resolves when that is done. */
  readonly put: (row: SubjectRow) => Promise<void>;
  readonly written: () => Promise<void>;
}

/** Rows of subjects that were folded, as many in one transaction as came together. */
export function createFreshRows(db: PersonDatabase): FreshRows {
  let rows = new Map<string, SubjectRow>();
  let writing: Promise<void> | null = null;

  const writeAll = async (): Promise<void> => {
    while (rows.size > 0) {
      const batch = rows;
      rows = new Map();
      await db.write(['subjects'], async (tx) => {
        const subjects = tx.objectStore('subjects');
        await Promise.all([...batch.values()].map((row) => putFresh(subjects, row)));
      });
    }
  };
  // What cannot be written now stays marked, and is folded again at the next start.
  const written = (): Promise<void> => writing ?? Promise.resolve();
  return {
    written,
    put: (row) => {
      rows.set(row.key, row);
      writing ??= writeAll()
        .catch(() => undefined)
        .finally(() => {
          writing = null;
        });
      return written();
    },
  };
}

/** A subject that has left the device stays away. */
async function putFresh(subjects: SubjectStore, row: SubjectRow): Promise<void> {
  const had = await subjects.get(row.key);
  if (had !== undefined && had.mark === row.mark) await subjects.put(row);
}
