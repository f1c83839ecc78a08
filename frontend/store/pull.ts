/**
 * Takes in everything of a team after the last position that this tablet has,
 * as long as somebody wants it here. The cursor moves in the same transaction
 * as the rows, so it can never be ahead of them, and what was interrupted goes
 * on from there.
 */
import type { Event } from '../model.gen';
import { toBytes } from './bytes';
import { StoreError } from './errors';
import { readEvent, refOf } from './event';
import type { Http } from './http';
import type { Outbox } from './outbox';
import type { Packing } from './packing';
import { markStale, takeNewLog } from './push';
import type { EventRow } from './rows';
import type { Shelf } from './shelf';
import { conflictAnswer, pullAnswer, readAnswer, type PullAnswerIn } from './wire';

export interface PullDeps {
  readonly shelf: Shelf;
  readonly outbox: Outbox;
  readonly http: Http;
  readonly packing: Packing;
  readonly applied: (subjects: ReadonlySet<string>, serverTime: string) => Promise<void>;
}

const PAGE = 1000;

/** Pulls a team to its end; `new-log` when the server's log turned out to be another. */
export async function pullTeam(deps: PullDeps, team: string): Promise<'done' | 'new-log'> {
  while (await deps.packing.goesOn(team)) {
    const [log, { after }] = [await deps.shelf.text('log'), await deps.shelf.place(team)];
    const query = `log=${encodeURIComponent(log)}&after=${after}&limit=${PAGE}`;
    const answer = await deps.http({ method: 'GET', path: `/api/v1/teams/${encodeURIComponent(team)}/events?${query}` });
    const other = newLogOf(answer.status, answer.json, log);
    if (other !== null) {
      await takeNewLog(deps.shelf, deps.outbox, other);
      return 'new-log';
    }
    const page = readAnswer(pullAnswer, answer.json);
    const touched = await deps.outbox.exclusive(() => applyPage(deps, team, after, page));
    // Stopped, or taken off the device, while the page was on its way.
    if (touched === null) continue;
    await deps.packing.read();
    await deps.applied(touched, page.server_time);
    if (!page.more || page.next <= after) break;
  }
  return 'done';
}

function newLogOf(status: number, json: unknown, log: string): string | null {
  if (status === 409) {
    const conflict = readAnswer(conflictAnswer, json);
    return conflict.log ?? '';
  }
  const page = readAnswer(pullAnswer, json);
  return log !== '' && page.log !== log ? page.log : null;
}

/** The cursor does not move past an entry that cannot be kept. */
function readEntry(raw: unknown): Event {
  try {
    return readEvent(raw);
  } catch (cause) {
    throw new StoreError('server', 'A newer version of the app wrote entries that this one cannot take in. Update the app, then fetch again.', { cause });
  }
}

async function applyPage({ shelf, packing }: PullDeps, team: string, after: number, page: PullAnswerIn): Promise<ReadonlySet<string> | null> {
  const place = await shelf.place(team);
  if (place.after !== after || !await packing.goesOn(team)) return null;
  const rows = await Promise.all(page.events.map(async (entry): Promise<EventRow> => {
    const event = readEntry(entry.raw);
    const key = refOf(event);
    return { key, subject: event.subject, pos: entry.pos, team, box: await shelf.sealEvent(key, toBytes(JSON.stringify(entry.raw))) };
  }));
  const touched = new Set(rows.map((row) => row.subject));
  await shelf.db.write(['events', 'subjects', 'meta'], async (tx) => {
    const events = tx.objectStore('events');
    for (const row of rows) {
      const had = await events.get(row.key);
      // An own event keeps its exact bytes and takes only its place.
      await events.put(had?.own === undefined ? row : { key: had.key, subject: had.subject, own: had.own, box: had.box, pos: row.pos, team });
    }
    for (const subject of touched) await markStale(tx.objectStore('subjects'), subject);
    const done = place.done || !page.more ? { done: 1 as const } : {};
    await tx.objectStore('meta').put({ key: `cursor:${team}`, number: page.next, count: place.count + rows.length, ...done });
    await tx.objectStore('meta').put({ key: 'log', text: page.log });
  });
  return touched;
}
