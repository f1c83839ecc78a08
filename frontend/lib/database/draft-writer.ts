/** Writes rows of drafts, each one after the other, over what other tabs wrote there. */
import type { EncryptedStore, StoredDraft } from './encrypted-store';

/** How a row becomes another; undefined is none. */
export type How = (row: unknown) => unknown;

interface Told {
  /** This is on the disk. */
  readonly kept: (key: string, value: unknown) => void;
  readonly failed: (key: string) => void;
}

interface RowWriter {
  /** `standsForAll`: what waits of the row need not be written any more. */
  readonly change: (key: string, how: How, standsForAll: boolean) => void;
  /** Whether changes of a row wait that no write has begun with. */
  readonly waits: (key: string) => boolean;
  /** Resolves when a row is written; undefined when it is. */
  readonly writing: (key: string) => Promise<void> | undefined;
  readonly done: () => Promise<unknown>;
}

const sameBox = (a: Uint8Array | undefined, b: Uint8Array | undefined): boolean =>
  a?.length === b?.length && !a?.some((byte, at) => byte !== b?.[at]);

/** `opened` are all rows as they were read when the drafts were opened. */
export function createRowWriter(store: EncryptedStore, opened: ReadonlyMap<string, StoredDraft>, { kept, failed }: Told): RowWriter {
  const queued = new Map<string, readonly How[]>();
  const writing = new Map<string, Promise<void>>();
  /** Changes that the browser would not keep: they go with the next one. */
  const unwritten = new Map<string, readonly How[]>();
  /** Rows as this tab read or wrote them last: a page that is closed has no time to read them again. */
  const last = new Map(opened);

  /** Writes what changes make of the row, if it lies on the disk as `before` says; false where another tab was quicker. */
  const tryPut = async (key: string, all: readonly How[], before: StoredDraft): Promise<boolean> => {
    last.delete(key);
    const value = all.reduce((row, how) => how(row), before.value);
    const box = value === undefined ? undefined : await store.seal('drafts', key, value);
    const put = await store.db.write(['drafts'], async (tx) => {
      const rows = tx.objectStore('drafts');
      if (!sameBox((await rows.get(key))?.box, before.box)) return false;
      await (box === undefined ? rows.delete(key) : rows.put({ key, box }));
      return true;
    });
    if (!put) return false;
    last.set(key, box === undefined ? { value } : { box, value });
    kept(key, value);
    return true;
  };

  const put = async (key: string, all: readonly How[]): Promise<void> => {
    let written = await tryPut(key, all, last.get(key) ?? { value: undefined });
    while (!written) written = await tryPut(key, all, await store.draft(key));
  };

  const drain = async (key: string): Promise<void> => {
    for (let next = queued.get(key); next !== undefined; next = queued.get(key)) {
      const all = [...(unwritten.get(key) ?? []), ...next];
      queued.delete(key);
      unwritten.delete(key);
      await put(key, all).catch(() => {
        unwritten.set(key, all);
        failed(key);
      });
    }
    writing.delete(key);
  };

  return {
    change: (key, how, standsForAll) => {
      if (standsForAll) unwritten.delete(key);
      queued.set(key, standsForAll ? [how] : [...(queued.get(key) ?? []), how]);
      if (!writing.has(key)) writing.set(key, drain(key));
    },
    waits: (key) => queued.has(key),
    writing: (key) => writing.get(key),
    done: async () => {
      await Promise.all(writing.values());
      last.clear();
    },
  };
}
