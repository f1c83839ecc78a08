/**
 * What is being counted right now and is not an entry yet: kept so that a closed
 * page, a crash or an empty battery loses nothing. Encrypted like every row, one
 * strict transaction a change. Screens never wait for it: while one write is
 * under way the next holds only the latest state.
 */
import { signal, type ReadonlySignal } from '@preact/signals';
import { isPlaceRow } from '../draft/form-drafts';
import { same } from '../draft/merge';
import { olderCounts } from '../draft/older-counts';
import { createRowWriter, type How } from './draft-writer';
import type { EncryptedStore } from './encrypted-store';

export interface Drafts {
  /** The keys of all drafts. */
  readonly keys: () => readonly string[];
  /** The draft under a key, or null. */
  readonly load: (key: string) => unknown;
  /** Keeps a draft in memory at once and on disk as soon as the write before it is done. */
  readonly keep: (key: string, value: unknown) => void;
  readonly drop: (key: string) => void;
  /**
   * Changes a row that another tab may have written since: `how` is called with what
   * lies there when its turn comes, and again where another tab was quicker. It gives
   * undefined to take the row away.
   */
  readonly change: (key: string, how: (row: unknown) => unknown) => void;
  /** Another tab wrote this row: what lies there is read. */
  readonly reread: (key: string) => Promise<void>;
  /** The row that last became another one than this tab had thought. */
  readonly arrived: ReadonlySignal<{ readonly key: string } | null>;
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

/**
 * Opens the drafts of the person whose rows these are; all are read, since there are
 * few. `wrote` is told each row that is on the disk, for the other tabs.
 */
export async function openDrafts(store: EncryptedStore, wrote: (key: string) => void = () => undefined): Promise<Drafts> {
  const opened = await store.drafts();
  const held = new Map([...opened].map(([key, { value }]) => [key, value]));
  const failing = signal<ReadonlySet<string>>(new Set(await moveOlderCounts(store, held)));
  const arrived = signal<{ readonly key: string } | null>(null);
  let closed = false;

  const mark = (key: string, isFailing: boolean): void => {
    if (failing.peek().has(key) === isFailing) return;
    const next = new Set(failing.peek());
    if (isFailing) next.add(key);
    else next.delete(key);
    failing.value = next;
  };

  const set = (key: string, value: unknown): void => {
    if (value === undefined) held.delete(key);
    else held.set(key, value);
  };

  const writer = createRowWriter(store, opened, {
    kept: (key, value) => {
      hold(key, value);
      wrote(key);
      mark(key, false);
    },
    failed: (key) => mark(key, true),
  });

  /** What lies there now: it is held, and told where it is not what this tab had thought. */
  const hold = (key: string, value: unknown): void => {
    if (closed || writer.waits(key) || same(held.get(key), value)) return;
    set(key, value);
    arrived.value = { key };
  };

  /** One that stands for all before it looks at nothing. */
  const change = (key: string, how: How, standsForAll = false): void => {
    set(key, how(held.get(key)));
    writer.change(key, how, standsForAll);
  };

  return {
    keys: () => [...held.keys()],
    load: (key) => held.get(key) ?? null,
    keep: (key, value) => {
      // A copy: what is kept is what was on the screen, not what it becomes.
      const copy: unknown = structuredClone(value);
      change(key, () => copy, true);
    },
    drop: (key) => {
      if (held.has(key) || writer.writing(key) !== undefined) change(key, () => undefined, true);
    },
    change: (key, how) => change(key, how),
    reread: async (key) => {
      await writer.writing(key);
      hold(key, (await store.draft(key)).value);
    },
    arrived,
    failing,
    close: async () => {
      closed = true;
      held.clear();
      await writer.done();
    },
  };
}
