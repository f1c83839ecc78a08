/**
 * A person's rows, sealed on the way in and opened and checked on the way out.
 * What comes back from the browser's database is treated like any other input.
 */
import { toBytes, toText, type Bytes } from '../bytes';
import type { Cipher } from '../crypto/cipher';
import { StoreError } from '../errors';
import type { Logs, Ref } from '../model.gen';
import { type StoredEvent, readEvent, refOf } from './event';
import type { PersonDatabase } from './guarded';
import { EARLIER, readLogs } from './logs';
import { boxRow, cursorKey, eventRow, FORKED, metaRow, subjectRow, type EventRow, type MetaRow, type SubjectRow } from './rows';
import { snapshotSchema, type Snapshot } from './snapshot';

/** How far a team's log has been taken in. */
export interface Place {
  readonly after: number;
  /** Entries taken in so far. */
  readonly count: number;
  /** Its end was reached at least once. */
  readonly done: boolean;
  /** The log became another one since its end was last reached. */
  readonly old: boolean;
}

/** A subject's events as they lay on the disk at one moment. */
export interface HeldEvents {
  readonly events: readonly StoredEvent[];
  /** The log that their positions are of, and those before it. */
  readonly logs: Logs;
  readonly mark: string | undefined;
}

export type PersonStore = 'events' | 'subjects' | 'results' | 'checklists' | 'meta' | 'drafts';

/** A draft as it lies on the disk: no box where there is none. */
export interface StoredDraft {
  readonly box?: Uint8Array;
  readonly value: unknown;
}

export interface EncryptedStore {
  readonly db: PersonDatabase;
  readonly seal: (store: PersonStore, key: string, value: unknown) => Promise<Bytes>;
  readonly sealEvent: (ref: Ref, raw: Bytes) => Promise<Bytes>;
  /** Throws StoreError `damaged` when the row does not open, `locked` when this tab's keys are not the newest. */
  readonly openEvent: (row: EventRow) => Promise<Bytes>;
  /** One subject's events, in no order, with the mark that its row has; see stale.ts. Rows that do not open are reported and left out. */
  readonly held: (subject: string) => Promise<HeldEvents>;
  /** Every subject's snapshot; `stale` names those that must be folded again. */
  readonly snapshots: () => Promise<{ readonly ready: ReadonlyMap<string, Snapshot>; readonly stale: readonly string[] }>;
  readonly snapshotRow: (key: string, snapshot: Snapshot) => Promise<SubjectRow>;
  /** A sealed value of results or checklists, undefined when there is none. */
  readonly value: (store: 'results' | 'checklists', key: string) => Promise<unknown>;
  /** Every draft by its key. Those that do not open are reported and left out. */
  readonly drafts: () => Promise<Map<string, StoredDraft>>;
  /** One draft as it lies on the disk now; one that does not open is reported and has no value. */
  readonly draft: (key: string) => Promise<StoredDraft>;
  /** The team whose log a subject's entries came from, undefined when none did. */
  readonly pulledFrom: (subject: string) => Promise<string | undefined>;
  readonly place: (team: string) => Promise<Place>;
  readonly number: (key: string) => Promise<number>;
  readonly text: (key: string) => Promise<string>;
  /** A sealed value of meta, undefined when there is none. */
  readonly secret: (key: string) => Promise<unknown>;
  readonly keepSecret: (key: string, value: unknown) => Promise<void>;
}

/** Told about each row that was changed, moved or cut short. */
export type Damaged = (store: PersonStore, key: string) => void;

/** Opens rows, and says which of them do not open. */
interface RowReader {
  readonly meta: (key: string) => Promise<MetaRow | undefined>;
  readonly openJson: (store: PersonStore, key: string, box: Uint8Array) => Promise<unknown>;
  readonly openEvent: (row: EventRow) => Promise<Bytes>;
  /** Opens a row or reports it; a damaged row never takes others down. */
  readonly orReport: <T>(store: PersonStore, key: unknown, work: () => Promise<T>) => Promise<T | undefined>;
}

function createRowReader(db: PersonDatabase, cipher: Cipher, damaged: Damaged, turn: number): RowReader {
  const meta = async (key: string) => {
    const row = await db.read(['meta'], (tx) => tx.objectStore('meta').get(key));
    return row === undefined ? undefined : metaRow(row);
  };
  const haveNewestKeys = async (): Promise<void> => {
    if (((await meta('turn'))?.number ?? 0) > turn)
      throw new StoreError('locked', 'Your password was changed in another tab. Sign in again to go on; nothing is lost.');
  };
  return {
    meta,
    openJson: async (store, key, box) => JSON.parse(toText(await cipher.open(store, key, box))) as unknown,
    openEvent: (row) =>
      cipher.open('events', row.key, row.box).catch(async (error: unknown) => {
        await haveNewestKeys();
        throw error;
      }),
    orReport: async (store, key, work) => {
      try {
        return await work();
      } catch {
        await haveNewestKeys();
        damaged(store, String(key));
        return undefined;
      }
    },
  };
}

/**
 * `turn` counts changes of the keys: a row that does not open with the keys of an
 * earlier turn is not damaged, and this tab must not act as if it were.
 */
export function createEncryptedStore(db: PersonDatabase, cipher: Cipher, damaged: Damaged, turn = 0): EncryptedStore {
  const reader = createRowReader(db, cipher, damaged, turn);
  const { meta, openEvent } = reader;
  const value: EncryptedStore['value'] = async (store, key) => {
    const row = await db.read([store], (tx) => tx.objectStore(store).get(key));
    return row === undefined ? undefined : reader.orReport(store, key, () => reader.openJson(store, key, boxRow(row).box));
  };
  return {
    db,
    openEvent,
    seal: (store, key, plain) => cipher.seal(store, key, toBytes(JSON.stringify(plain))),
    sealEvent: (ref, raw) => cipher.seal('events', ref, raw),
    held: async (subject) => {
      const [rows, row, log, earlier] = await db.read(['events', 'subjects', 'meta'], (tx) => {
        const events = tx.objectStore('events').index('subject').getAll(subject);
        const counters = tx.objectStore('meta');
        return Promise.all([events, tx.objectStore('subjects').get(subject), counters.get('log'), counters.get(EARLIER)]);
      });
      return { events: await readStoredEvents(reader, rows), logs: readLogs(log, earlier), mark: row?.mark };
    },
    snapshots: () => readSnapshots(db, reader),
    snapshotRow: async (key, snapshot) => ({ key, box: await cipher.seal('subjects', key, toBytes(JSON.stringify(snapshot))) }),
    value,
    drafts: () => readDrafts(db, reader),
    draft: async (key) => {
      const row = await db.read(['drafts'], (tx) => tx.objectStore('drafts').get(key));
      if (row === undefined) return { value: undefined };
      return { box: row.box, value: await reader.orReport('drafts', key, () => reader.openJson('drafts', key, boxRow(row).box)) };
    },
    pulledFrom: async (subject) => {
      const rows = await db.read(['events'], (tx) => tx.objectStore('events').index('subject').getAll(subject));
      return rows.find((row) => row.team !== undefined)?.team;
    },
    place: async (team) => {
      const row = await meta(cursorKey(team));
      return { after: row?.number ?? 0, count: row?.count ?? 0, done: row?.done === 1, old: row?.old === 1 };
    },
    number: async (key) => (await meta(key))?.number ?? 0,
    text: async (key) => (await meta(key))?.text ?? '',
    secret: async (key) => {
      const box = (await meta(key))?.box;
      return box === undefined ? undefined : reader.orReport('meta', key, () => reader.openJson('meta', key, box));
    },
    keepSecret: async (key, secret) => {
      const box = await cipher.seal('meta', key, toBytes(JSON.stringify(secret)));
      await db.write(['meta'], (tx) => tx.objectStore('meta').put({ key, box }));
    },
  };
}

async function readStoredEvents(reader: RowReader, rows: readonly EventRow[]): Promise<readonly StoredEvent[]> {
  const list = await Promise.all(rows.map((row) => readStoredEvent(reader, row)));
  return list.filter((one) => one !== undefined);
}

function readStoredEvent(reader: RowReader, raw: EventRow): Promise<StoredEvent | undefined> {
  return reader.orReport('events', raw.key, async () => {
    const row = eventRow(raw);
    const event = readEvent(JSON.parse(toText(await reader.openEvent(row))));
    if (refOf(event) !== row.key.replace(FORKED, '') || event.subject !== row.subject) throw new Error('row does not hold its event');
    return { pos: row.pos, event, aside: row.aside === 1 };
  });
}

async function readSnapshots(db: PersonDatabase, reader: RowReader): ReturnType<EncryptedStore['snapshots']> {
  const rows = await db.read(['subjects'], (tx) => tx.objectStore('subjects').getAll());
  const ready = new Map<string, Snapshot>();
  const stale: string[] = [];
  await Promise.all(
    rows.map(async (raw) => {
      const snapshot = await reader.orReport('subjects', raw.key, async () => {
        const row = subjectRow(raw);
        return row.box === undefined ? undefined : snapshotSchema(await reader.openJson('subjects', row.key, row.box));
      });
      if (snapshot !== undefined) ready.set(raw.key, snapshot);
      // What an older version could not read, this one may.
      if (snapshot === undefined || raw.stale === 1 || snapshot.newer !== undefined) stale.push(raw.key);
    }),
  );
  return { ready, stale };
}

async function readDrafts(db: PersonDatabase, reader: RowReader): Promise<Map<string, StoredDraft>> {
  const rows = await db.read(['drafts'], (tx) => tx.objectStore('drafts').getAll());
  const drafts = new Map<string, StoredDraft>();
  await Promise.all(
    rows.map(async (raw) => {
      const value = await reader.orReport('drafts', raw.key, () => reader.openJson('drafts', raw.key, boxRow(raw).box));
      if (value !== undefined) drafts.set(raw.key, { box: raw.box, value });
    }),
  );
  return drafts;
}
