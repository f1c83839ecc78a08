/**
 * What is being counted right now and is not an entry yet: kept so that a closed
 * page, a crash or an empty battery loses nothing. Encrypted like every row, one
 * strict transaction a change. Screens never wait for it: while one write is
 * under way the next holds only the latest state.
 */
import { signal, type ReadonlySignal } from '@preact/signals';
import { isPlaceRow } from '../draft/form-drafts';
import { olderCounts } from '../draft/older-counts';
import type { EncryptedStore } from './encrypted-store';

export interface Drafts {
  /** The keys of all drafts. */
  readonly keys: () => readonly string[];
  /** The draft under a key, or null. */
  readonly load: (key: string) => unknown;
  /** Keeps a draft in memory at once and on disk as soon as the write before it is done. */
  readonly keep: (key: string, value: unknown) => void;
  readonly drop: (key: string) => void;
  /** Keys whose last change is not on disk because the browser would not keep it. */
  readonly failing: ReadonlySignal<ReadonlySet<string>>;
  /** Forgets what is in memory; resolves when no write is under way. */
  readonly close: () => Promise<void>;
}

/** The keys of drafts about these subjects, each of which its key names: unsaved work, and where somebody was on a screen. */
export async function draftsAbout(
  store: Pick<EncryptedStore, 'db'>,
  subjects: Iterable<string>,
): Promise<{ readonly work: readonly string[]; readonly places: readonly string[] }> {
  const keys = await store.db.read(['drafts'], (tx) => tx.objectStore('drafts').getAllKeys());
  const all = [...subjects];
  const about = keys.filter((key) => all.some((subject) => key.includes(subject)));
  return { work: about.filter((key) => !isPlaceRow(key)), places: about.filter(isPlaceRow) };
}

/**
 * Brings counts in rows of their own into the rows of their visits, in memory and, each
 * in one transaction, on disk. What is there already stays. Gives the rows that the
 * browser did not keep.
 */
async function moveOlderCounts(store: EncryptedStore, held: Map<string, unknown>): Promise<readonly string[]> {
  const failed: string[] = [];
  for (const { key, row, name, draft } of olderCounts(held)) {
    const drafts = held.get(row);
    const next = { [name]: draft, ...(typeof drafts === 'object' ? drafts : {}) };
    const box = await store.seal('drafts', row, next);
    const moved = await store.db
      .write(['drafts'], async (tx) => {
        const rows = tx.objectStore('drafts');
        // A row that does not open here is not written over, and another tab may have moved this one.
        if ((drafts === undefined && (await rows.getKey(row)) !== undefined) || (await rows.getKey(key)) === undefined) return false;
        await rows.put({ key: row, box });
        await rows.delete(key);
        return true;
      })
      .catch(() => void failed.push(row));
    if (moved === false) continue;
    held.set(row, next);
    held.delete(key);
  }
  return failed;
}

/** Opens the drafts of the person whose rows these are; all are read, since there are few. */
export async function openDrafts(store: EncryptedStore): Promise<Drafts> {
  const held = await store.drafts();
  const failing = signal<ReadonlySet<string>>(new Set(await moveOlderCounts(store, held)));
  /** The latest state of each key that waits; undefined to take the row away. */
  const queued = new Map<string, unknown>();
  const writing = new Map<string, Promise<void>>();

  const put = async (key: string, value: unknown): Promise<void> => {
    if (value === undefined) {
      await store.db.write(['drafts'], (tx) => tx.objectStore('drafts').delete(key));
      return;
    }
    const box = await store.seal('drafts', key, value);
    await store.db.write(['drafts'], (tx) => tx.objectStore('drafts').put({ key, box }));
  };

  const mark = (key: string, failed: boolean): void => {
    if (failing.peek().has(key) === failed) return;
    const next = new Set(failing.peek());
    if (failed) next.add(key);
    else next.delete(key);
    failing.value = next;
  };

  const drain = async (key: string): Promise<void> => {
    while (queued.has(key)) {
      const value = queued.get(key);
      queued.delete(key);
      await put(key, value).then(
        () => mark(key, false),
        () => mark(key, true),
      );
    }
    writing.delete(key);
  };

  const write = (key: string, value: unknown): void => {
    // A copy: what is kept is what was on the screen, not what it becomes.
    queued.set(key, value === undefined ? undefined : structuredClone(value));
    if (!writing.has(key)) writing.set(key, drain(key));
  };

  return {
    keys: () => [...held.keys()],
    load: (key) => held.get(key) ?? null,
    keep: (key, value) => {
      held.set(key, value);
      write(key, value);
    },
    drop: (key) => {
      if (!held.delete(key) && !writing.has(key)) return;
      write(key, undefined);
    },
    failing,
    close: async () => {
      held.clear();
      await Promise.all(writing.values());
    },
  };
}
