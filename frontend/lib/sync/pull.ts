/**
 * Takes in everything of a team after the last position that this tablet has,
 * as long as somebody wants it here. The cursor moves in the same transaction
 * as the rows, so it can never be ahead of them, and what was interrupted goes
 * on from there.
 */
import type { Http } from '../api/http';
import { conflictAnswer, pullAnswer, readAnswer, type PullAnswerIn } from '../api/schemas';
import { toBytes, toText } from '../bytes';
import type { EncryptedStore } from '../database/encrypted-store';
import { readEvent, refOf } from '../database/event';
import { EARLIER, earlierRow } from '../database/logs';
import type { RowTx } from '../database/guarded';
import { noteReceipt } from '../database/receipts';
import { ALTERED, cursorKey, FORKED, type EventRow } from '../database/rows';
import { markStale } from '../database/stale';
import { StoreError } from '../errors';
import type { Event } from '../model.gen';
import type { Outbox } from '../records/outbox';
import { forgottenRow, readForgotten } from './forgotten';
import { damagedName, takeNewLog } from './push';
import type { TeamDownloads } from './team-download';

interface PullDeps {
  readonly store: EncryptedStore;
  readonly outbox: Outbox;
  readonly http: Http;
  readonly teamDownloads: TeamDownloads;
  readonly tablet: string;
  readonly now: () => Date;
  readonly applied: (subjects: ReadonlySet<string>, serverTime: string) => Promise<void>;
}

const PAGE = 1000;

/** Pulls a team to its end; `new-log` when the server's log turned out to be another. */
export async function pullTeam(deps: PullDeps, team: string): Promise<'done' | 'new-log'> {
  while (await deps.teamDownloads.goesOn(team)) {
    const { after } = await deps.store.place(team);
    const page = await askPage(deps, team, after);
    if (page === null) return 'new-log';
    const touched = await deps.outbox.exclusive(() => applyPage(deps, team, after, page));
    // Stopped, or taken off the device, while the page was on its way.
    if (touched === null) continue;
    await deps.teamDownloads.read();
    await deps.applied(touched, page.server_time);
    if (!page.more || page.next <= after) break;
  }
  return bringBack(deps, team);
}

/** One page; null when the server's log turned out to be another, which is taken on. */
async function askPage(deps: PullDeps, team: string, after: number): Promise<PullAnswerIn | null> {
  const log = await deps.store.text('log');
  const query = `log=${encodeURIComponent(log)}&after=${after}&limit=${PAGE}`;
  const answer = await deps.http({ method: 'GET', path: `/api/v1/teams/${encodeURIComponent(team)}/events?${query}` });
  const other = newLogOf(answer.status, answer.json, log);
  if (other === null) return readAnswer(pullAnswer, answer.json);
  await takeNewLog(deps.store, deps.outbox, other);
  await deps.applied(new Set(), '');
  return null;
}

/**
 * Takes closed clients in again of whom there is news. All that was said of them
 * before comes in one transaction: nobody is shown half of it, or writes an
 * entry that has not seen the rest.
 */
async function bringBack(deps: PullDeps, team: string): Promise<'done' | 'new-log'> {
  const { store } = deps;
  const wanted = async () => (await readForgotten(store)).filter((one) => one.back && one.team === team).flatMap((one) => one.subjects);
  const subjects = new Set(await wanted());
  if (subjects.size === 0) return 'done';
  const { after: end } = await store.place(team);
  const found: Entry[] = [];
  for (let after = 0, more = true; more;) {
    const page = await askPage(deps, team, after);
    if (page === null) return 'new-log';
    found.push(
      ...page.events
        .filter((one) => one.pos <= end)
        .map(readEntry)
        .filter((one) => subjects.has(one.event.subject)),
    );
    more = page.more && page.next > after && page.next < end;
    after = page.next;
  }
  await deps.outbox.exclusive(async () => {
    // Another log, or the team taken off the device meanwhile: nothing is wanted any more.
    if ((await wanted()).join() !== [...subjects].join()) return;
    const n = await store.number('n');
    const rows = (await Promise.all(found.map((entry) => rowsOf(deps, team, entry, n)))).flat();
    const list = await forgottenRow(
      store,
      (await readForgotten(store)).filter((one) => !one.subjects.some((id) => subjects.has(id))),
    );
    await store.db.write(['events', 'subjects', 'meta'], async (tx) => {
      for (const row of rows) await tx.objectStore('events').put(row);
      for (const subject of subjects) await markStale(tx.objectStore('subjects'), subject);
      await tx.objectStore('meta').put(list);
    });
  });
  await deps.applied(subjects, '');
  return 'done';
}

function newLogOf(status: number, json: unknown, log: string): string | null {
  if (status === 409) {
    const conflict = readAnswer(conflictAnswer, json);
    if (conflict.error === 'log' && conflict.log === log) throw damagedName();
    return conflict.log ?? '';
  }
  const page = readAnswer(pullAnswer, json);
  return log !== '' && page.log !== log ? page.log : null;
}

interface Entry {
  readonly pos: number;
  readonly raw: unknown;
  readonly event: Event;
}

/** The cursor does not move past an entry that cannot be kept. */
function readEntry({ pos, raw }: Pick<Entry, 'pos' | 'raw'>): Entry {
  try {
    return { pos, raw, event: readEvent(raw) };
  } catch (cause) {
    throw new StoreError(
      'server',
      'A newer version of the app wrote entries that this one cannot take in. Update the app, then fetch again.',
      { cause },
    );
  }
}

async function applyPage(deps: PullDeps, team: string, after: number, page: PullAnswerIn): Promise<ReadonlySet<string> | null> {
  const { store } = deps;
  const place = await store.place(team);
  if (place.after !== after || !(await deps.teamDownloads.goesOn(team))) return null;
  const entries = page.events.map(readEntry);
  const ack = await store.number('ack');
  // With nothing waiting, numbers go on after those that the server has of this tablet.
  const n = await store.number('n');
  const last = n > ack ? 0 : Math.max(0, ...entries.map(({ event }) => (event.tablet === deps.tablet ? event.n : 0)));
  const rows = (await Promise.all(entries.map((entry) => rowsOf(deps, team, entry, Math.max(last, n))))).flat();
  const touched = new Set(rows.map((row) => row.subject));
  // News of a client who has left this tablet, or a new visit to them.
  const named = new Set(entries.flatMap(({ event }) => [event.subject, (event.body as { readonly client?: unknown } | null)?.client]));
  const [forgotten, isNews] = [await readForgotten(store), (id: string) => named.has(id)];
  const list = forgotten.some((one) => one.subjects.some(isNews))
    ? await forgottenRow(
        store,
        forgotten.map((one) => ({ ...one, back: one.back || one.subjects.some(isNews) })),
      )
    : null;
  const earlier = earlierRow(page.earlier);
  // What is here was folded without them. After another log has begun it is all on its way anew.
  const refold = !place.old && ((await store.text(EARLIER)) || '[]') !== earlier.text;
  await store.db.write(['events', 'subjects', 'meta'], async (tx) => {
    for (const row of rows) await tx.objectStore('events').put(row);
    for (const subject of refold ? await tx.objectStore('subjects').getAllKeys() : []) touched.add(subject);
    if (place.old && !page.more) await setUnplacedAside(tx, team, touched);
    for (const subject of touched) await markStale(tx.objectStore('subjects'), subject);
    const meta = tx.objectStore('meta');
    for (const key of last > ack ? ['n', 'ack'] : []) await meta.put({ key, number: last });
    if (last > ack) await meta.put({ key: ALTERED.whole, text: deps.now().toISOString() });
    const standing = { ...(place.done || !page.more ? { done: 1 as const } : {}), ...(place.old && page.more ? { old: 1 as const } : {}) };
    await meta.put({ key: cursorKey(team), number: page.next, count: place.count + entries.length, ...standing });
    await meta.put({ key: 'log', text: page.log });
    await meta.put(earlier);
    if (list !== null) await meta.put(list);
    await noteReceipt(meta, deps.now(), page.server_time, { ack: Math.max(last, ack), pos: page.next });
  });
  return touched;
}

/**
 * The row of an entry; two when another device wrote under this tablet's name and number.
 * Where nothing ever lay here of a number up to `used`, which no new entry gets, the entry becomes this
 * tablet's own: it came in a file, or was said before the device was put back, and a restored server
 * will ask for it.
 */
async function rowsOf({ store, tablet }: PullDeps, team: string, entry: Entry, used: number): Promise<readonly EventRow[]> {
  const { pos, event } = entry;
  const [ref, text] = [refOf(event), JSON.stringify(entry.raw)];
  const pulled = async (key: string): Promise<EventRow> => ({
    key,
    subject: event.subject,
    pos,
    team,
    box: await store.sealEvent(key, toBytes(text)),
  });
  if (event.tablet !== tablet) return [await pulled(ref)];
  const [mine, beside] = await store.db.read(['events'], async (tx) => {
    const events = tx.objectStore('events');
    return [await events.get(ref), await events.get(ref + FORKED)] as const;
  });
  if (mine?.own === undefined) {
    // An earlier version laid it beside a row that never was.
    const isOwn = event.n <= used && event.n > (await store.number('gone')) && beside === undefined;
    return [isOwn ? { ...(await pulled(ref)), own: event.n } : await pulled(ref + FORKED)];
  }
  // An own event keeps its exact bytes and takes only its place.
  if (
    mine.pos === pos ||
    (await store.openEvent(mine).then(
      (bytes) => toText(bytes) === text,
      () => false,
    ))
  ) {
    return [{ key: ref, subject: mine.subject, own: mine.own, box: mine.box, pos, team }];
  }
  return [{ ...mine, aside: 1 }, await pulled(ref + FORKED)];
}

/** What others said and a restored server does not have is kept here and does not count, until it gets a new place. */
async function setUnplacedAside(tx: RowTx<'events' | 'subjects' | 'meta'>, team: string, touched: Set<string>): Promise<void> {
  for (const row of await tx.objectStore('events').getAll()) {
    if (row.own !== undefined || row.pos > 0 || (row.team ?? team) !== team) continue;
    await tx.objectStore('events').put({ ...row, aside: 1 });
    touched.add(row.subject);
  }
}
