/**
 * Since when the server has had what is here. Neither clock is believed alone:
 * time counts as far as this tablet's clock and the server's agree that it
 * passed, and no step counts for more than a week. A clock that jumps by ten
 * years thus makes nothing older, and one that is set back only costs time.
 *
 * In meta: `clock` holds the time that counted so far and both clocks as last
 * read; `acked:D` what was acknowledged up to the end of its day D.
 */
import type { IDBPObjectStore } from 'idb';
import type { MetaRow, PersonSchema } from './rows';

const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;
/** Proposal, not validated. */
const MOST_AT_ONCE_MS = 7 * DAY_MS;
/** Days after which what was acknowledged may leave; a day is added for the hours that have not counted yet. */
const KEEP_DAYS = 30 + 1;

const RECEIPT = 'acked:';

type MetaStore = Pick<IDBPObjectStore<PersonSchema, ('events' | 'subjects' | 'meta')[], 'meta', 'readwrite'>, 'get' | 'getAll' | 'put'>;

interface Receipt {
  /** The server keeps every own entry up to this number. */
  readonly ack: number;
  /** A position in the log that the server had reached. */
  readonly pos: number;
}

/** What was acknowledged thirty days ago. */
export interface Firm extends Receipt {
  /** The day that it is now, counted as above. */
  readonly today: number;
}

export function isReceipt(key: string): boolean {
  return key.startsWith(RECEIPT);
}

/** Notes what an answer acknowledged, in the transaction that takes it in. Without the server's time nothing is noted. */
export async function noteReceipt(meta: MetaStore, now: Date, serverTime: string, { ack, pos }: Receipt): Promise<void> {
  const server = Date.parse(serverTime);
  if (Number.isNaN(server)) return;
  const key = RECEIPT + Math.floor((await tick(meta, now.getTime(), server)) / DAY_MS);
  const had = await meta.get(key);
  await meta.put({ key, number: Math.max(had?.number ?? 0, ack), count: Math.max(had?.count ?? 0, pos) });
}

async function tick(meta: MetaStore, device: number, server: number): Promise<number> {
  const row = await meta.get('clock');
  const [deviceThen = NaN, serverThen = NaN] = (row?.text ?? '').split(' ').map(Number);
  const passed = Math.min(device - deviceThen, server - serverThen);
  const age = row?.number ?? 0;
  if (passed >= 0 && passed < HOUR_MS) return age;
  const number = passed > 0 ? age + Math.min(passed, MOST_AT_ONCE_MS) : age;
  await meta.put({ key: 'clock', number, text: `${device} ${server}` });
  return number;
}

/** The server keeps less than it said before: no receipt is worth more. */
export async function cutReceipts(meta: MetaStore, ack: number): Promise<void> {
  for (const row of await meta.getAll()) {
    if (isReceipt(row.key) && (row.number ?? 0) > ack) await meta.put({ ...row, number: ack });
  }
}

/** Reads all rows of meta. */
export function firmOf(rows: readonly MetaRow[]): Firm {
  const today = Math.floor((rows.find((row) => row.key === 'clock')?.number ?? 0) / DAY_MS);
  const old = rows.filter((row) => isReceipt(row.key) && Number(row.key.slice(RECEIPT.length)) + KEEP_DAYS < today);
  const most = (field: 'number' | 'count') => Math.max(0, ...old.map((row) => row[field] ?? 0));
  return { today, ack: most('number'), pos: most('count') };
}
