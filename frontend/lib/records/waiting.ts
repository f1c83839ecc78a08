/** What is on this tablet only: how much, of what, and since when. */
import { toText } from '../bytes';
import type { EncryptedStore } from '../database/encrypted-store';
import { readEvent } from '../database/event';

export interface Waiting {
  readonly total: number;
  /** Tablet time of the oldest, or empty. */
  readonly oldest: string;
  /** Waiting events by subject. */
  readonly of: ReadonlyMap<string, number>;
  /** The same with one more. */
  readonly plus: (subject: string, at: string) => Waiting;
}

function createWaiting(of: ReadonlyMap<string, number>, total: number, oldest: string): Waiting {
  return {
    total,
    oldest,
    of,
    plus: (subject, at) => createWaiting(new Map(of).set(subject, (of.get(subject) ?? 0) + 1), total + 1, oldest === '' ? at : oldest),
  };
}

export const noWaiting: Waiting = createWaiting(new Map(), 0, '');

/** Counts from the rows; opens only the oldest one, for its time. */
export async function readWaiting(store: EncryptedStore): Promise<Waiting> {
  const ack = await store.number('ack');
  const rows = await store.db.read(['events'], (tx) => tx.objectStore('events').index('own').getAll(IDBKeyRange.lowerBound(ack, true)));
  const of = new Map<string, number>();
  for (const row of rows) of.set(row.subject, (of.get(row.subject) ?? 0) + 1);
  const first = rows[0];
  return createWaiting(of, rows.length, first === undefined ? '' : await timeOf(store, first));
}

async function timeOf(store: EncryptedStore, row: Parameters<EncryptedStore['openEvent']>[0]): Promise<string> {
  try {
    return readEvent(JSON.parse(toText(await store.openEvent(row)))).at;
  } catch {
    return '';
  }
}
