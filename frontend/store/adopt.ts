/**
 * A new name for this tablet's stream. It is needed when the server does not
 * know the tablet any more: it was restored from a copy older than the tablet's
 * registration, or an administrator ended the tablet. Events that the server
 * cannot have are written again under the new name, in the same order; what it
 * has stays as it is.
 */
import type { Event, Ref } from '../model.gen';
import { toBytes, toText } from './bytes';
import { readEvent, refOf } from './event';
import { forgetPlaces, markStale } from './push';
import type { EventRow } from './rows';
import type { Shelf } from './shelf';

export interface Adoption {
  readonly to: string;
  /** The server's log; another than the known one has none of the old stream. */
  readonly log: string;
}

export async function adoptStream(shelf: Shelf, { to, log }: Adoption): Promise<void> {
  const known = await shelf.text('log');
  const none = log !== known && known !== '';
  const after = none ? 0 : await shelf.number('ack');
  const rows = await shelf.db.read(['events'], (tx) => tx.objectStore('events').index('own').getAll(IDBKeyRange.lowerBound(after, true)));
  const moved = await rewrite(shelf, rows, to);
  await shelf.db.write(['events', 'subjects', 'meta'], async (tx) => {
    const events = tx.objectStore('events');
    for (let at = await events.index('own').openCursor(); at !== null; at = await at.continue()) {
      const { own: _, ...rest } = at.value;
      await at.update(rest);
    }
    for (const row of rows) await events.delete(row.key);
    for (const row of moved) {
      await events.put(row);
      await markStale(tx.objectStore('subjects'), row.subject);
    }
    const meta = tx.objectStore('meta');
    await meta.put({ key: 'n', number: moved.length });
    await meta.put({ key: 'ack', number: 0 });
    if (none) await forgetPlaces(tx);
    await meta.put({ key: 'log', text: log });
  });
}

/** The rows' events under the new name, numbered from 1; damaged rows are left out. */
async function rewrite(shelf: Shelf, rows: readonly EventRow[], to: string): Promise<readonly EventRow[]> {
  const named = new Map<Ref, Ref>();
  const moved: EventRow[] = [];
  for (const row of rows) {
    const event = await shelf.openEvent(row).then((bytes) => readEvent(JSON.parse(toText(bytes))), () => null);
    if (event === null) continue;
    const n = moved.length + 1;
    const next: Event = { ...event, tablet: to, n, body: renamed(event.body, named) };
    const key = refOf(next);
    named.set(row.key, key);
    moved.push({ key, subject: row.subject, pos: 0, own: n, box: await shelf.sealEvent(key, toBytes(JSON.stringify(next))) });
  }
  return moved;
}

/** A body in which each ref to a renamed event is the new one. */
function renamed(value: unknown, named: ReadonlyMap<Ref, Ref>): unknown {
  if (typeof value === 'string') return named.get(value) ?? value;
  if (Array.isArray(value)) return value.map((one) => renamed(one, named));
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, one]) => [key, renamed(one, named)]));
}
