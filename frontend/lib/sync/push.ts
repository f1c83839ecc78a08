/**
 * Sends what waits, in order and without gaps, until nothing waits. Sending the
 * same twice is harmless: the server knows events by number and hash. What it
 * sets aside is kept here, marked, and shown; it never holds up what follows.
 */
import type { Http } from '../api/http';
import { conflictAnswer, pushAnswer, readAnswer, type PushAnswerIn } from '../api/schemas';
import { join, sha256, toBytes, type Bytes } from '../bytes';
import { pushStatement } from '../crypto/signing';
import type { EncryptedStore } from '../database/encrypted-store';
import { readEvent, refOf } from '../database/event';
import type { RowTx } from '../database/guarded';
import { earlierRow } from '../database/logs';
import { cutReceipts, isReceipt, noteReceipt } from '../database/receipts';
import { ALTERED, cursorTeam, eventRow, type EventRow } from '../database/rows';
import { markStale } from '../database/stale';
import { StoreError } from '../errors';
import { serverLimits } from '../model.gen';
import { itemOf } from '../records/item-of';
import type { Outbox } from '../records/outbox';
import { readRefused } from '../records/refused';
import type { Refused } from '../records/types';
import type * as v from '../schema';
import { forgetRegistered, makeTabletKey, registerTabletKey, tabletKey } from './tablet-key';

interface PushDeps {
  readonly store: EncryptedStore;
  readonly outbox: Outbox;
  readonly http: Http;
  readonly tablet: string;
  readonly now: () => Date;
  /** Told after each batch which subjects changed, and the server's time. */
  readonly applied: (subjects: ReadonlySet<string>, serverTime: string) => Promise<void>;
}

/** A sixth of what the server takes is left for what goes around the entries, also where they are sealed. */
export const MOST_BYTES = Math.floor((serverLimits.pushBytes * 5) / 6);
/** Conflicts in a row before it is left to a later try. */
const MOST_CONFLICTS = 4;
const PATIENCE_MS = 60_000;

interface Batch {
  readonly from: number;
  readonly lines: readonly Bytes[];
}

export async function pushAll(deps: PushDeps): Promise<void> {
  await makeTabletKey(deps.store);
  let most: number = serverLimits.pushEvents;
  let conflicts = 0;
  let asked = false;
  for (;;) {
    await registerTabletKey(deps);
    const batch = await nextBatch(deps, most, asked);
    if (batch.lines.length === 0) return;
    try {
      const said = await sendBatch(deps, batch);
      asked = said === 'gap' || (asked && said === 'taken');
      if (said === 'taken') conflicts = 0;
      else if (++conflicts > MOST_CONFLICTS)
        throw new StoreError('server', 'The server and this tablet do not agree on what was sent. It will be tried again.');
    } catch (error) {
      // A batch that is too large for the server, or for the way to it, is halved.
      if (!tooLarge(error) || batch.lines.length === 1) throw error;
      most = Math.floor(batch.lines.length / 2);
    }
  }
}

function tooLarge(error: unknown): boolean {
  return error instanceof StoreError && (error.info.status === 413 || error.info.reason === 'timeout');
}

/** Sends one batch; unless it is taken, the server asks to send from elsewhere. */
async function sendBatch(deps: PushDeps, batch: Batch): Promise<'taken' | 'log' | 'gap'> {
  const { first, body } = await batchBytes(deps, batch);
  const signature = await (await tabletKey(deps.store))?.sign(pushStatement(first));
  const answer = await deps
    .http({
      method: 'POST',
      path: '/api/v1/events',
      raw: { type: 'application/x-ndjson', bytes: join([first, toBytes('\n'), body]) },
      ...(signature === undefined ? {} : { headers: { 'Doorsill-Signature': signature } }),
      timeoutMs: PATIENCE_MS,
    })
    .catch(async (error: unknown) => {
      if (error instanceof StoreError && error.info.reason === 'unsigned') await forgetRegistered(deps.store);
      throw error;
    });
  if (answer.status === 409) {
    return applyConflict(deps, readAnswer(conflictAnswer, answer.json));
  }
  const said = readAnswer(pushAnswer, answer.json);
  const touched = await deps.outbox.exclusive(() => applyVerdicts(deps, batch, said));
  await deps.applied(touched, said.server_time);
  return 'taken';
}

async function batchBytes(deps: PushDeps, batch: Batch): Promise<{ readonly first: Bytes; readonly body: Bytes }> {
  const newline = toBytes('\n');
  const body = join(batch.lines.flatMap((line) => [line, newline]));
  const head = {
    log: await deps.store.text('log'),
    tablet: deps.tablet,
    from: batch.from,
    count: batch.lines.length,
    sha256: await sha256(body),
    at: deps.now().toISOString(),
  };
  return { first: toBytes(JSON.stringify(head)), body };
}

/**
 * The next entries in order. A restored server has those that left this tablet
 * long ago: they are passed over, until it has `asked` for them.
 */
async function nextBatch(deps: PushDeps, most: number, asked: boolean): Promise<Batch> {
  const { store } = deps;
  const ack = await store.number('ack');
  const gone = asked ? 0 : await store.number('gone');
  const kept =
    ack < gone
      ? await store.db.read(
          ['events'],
          async (tx) => (await tx.objectStore('events').index('own').openKeyCursor(IDBKeyRange.lowerBound(ack, true)))?.key,
        )
      : 0;
  const from = Math.max(ack + 1, Math.min(kept ?? Infinity, gone + 1));
  const to = Math.min(await store.number('n'), from + most - 1);
  if (to < from) return { from, lines: [] };
  const rows = await store.db.read(['events'], (tx) => tx.objectStore('events').index('own').getAll(IDBKeyRange.bound(from, to)));
  const byNumber = new Map(rows.map((row) => [row.own ?? 0, row]));
  const lines: Bytes[] = [];
  let size = 0;
  for (let n = from; n <= to; n++) {
    const row = byNumber.get(n);
    if (row === undefined && n <= gone) break;
    const line = await lineOf(deps, n, row);
    if (lines.length > 0 && size + line.length > MOST_BYTES) break;
    lines.push(line);
    size += line.length + 1;
  }
  return { from, lines };
}

/**
 * The exact bytes of an own event. For a row that is gone or does not open a
 * note takes its place: the server puts it aside and goes on, so that one
 * damaged row never holds up all that follow.
 */
export async function lineOf(deps: Pick<PushDeps, 'store' | 'tablet'>, n: number, row: EventRow | undefined): Promise<Bytes> {
  if (row !== undefined) {
    try {
      return await deps.store.openEvent(eventRow(row));
    } catch (error) {
      if (error instanceof StoreError && error.code === 'locked') throw error;
    }
  }
  return toBytes(JSON.stringify({ tablet: deps.tablet, n, damaged: 'this row could not be read on its tablet' }));
}

async function applyConflict(deps: PushDeps, conflict: v.Infer<typeof conflictAnswer>): Promise<'log' | 'gap'> {
  if (conflict.error === 'log' && conflict.log !== undefined) {
    if (conflict.log === (await deps.store.text('log'))) throw damagedName();
    await takeNewLog(deps.store, deps.outbox, conflict.log);
    // What is written from now on has seen nothing of this log yet.
    await deps.applied(new Set(), '');
    return 'log';
  }
  const number = conflict.ack;
  if (conflict.error !== 'gap' || number === undefined) {
    throw new StoreError('server', 'The server gave an answer that this version of the app does not understand.', {
      reason: conflict.error,
    });
  }
  await deps.outbox.exclusive(() =>
    deps.store.db.write(['meta'], async (tx) => {
      await tx.objectStore('meta').put({ key: 'ack', number });
      await cutReceipts(tx.objectStore('meta'), number);
    }),
  );
  return 'gap';
}

/** The server has the log that was named to it: the name was damaged on its way, and nothing begins anew for that. */
export const damagedName = (): StoreError =>
  new StoreError('server', 'What was sent reached the server damaged. It is sent again.', { reason: 'damaged' });

/**
 * The server's log is another one: it was restored or begun anew. All own
 * events wait again, and everything is asked for from the start. Other people's
 * events stay here; those that the new log turns out to lack do not count until
 * the server gives them a new place.
 */
export async function takeNewLog(store: EncryptedStore, outbox: Pick<Outbox, 'exclusive'>, log: string): Promise<void> {
  await outbox.exclusive(() =>
    store.db.write(['events', 'subjects', 'meta'], async (tx) => {
      await forgetPlaces(tx);
      await tx.objectStore('meta').put({ key: 'ack', number: 0 });
      await tx.objectStore('meta').put({ key: 'log', text: log });
      // Which logs it was restored from comes with its first page.
      await tx.objectStore('meta').put(earlierRow(undefined));
    }),
  );
}

/** Positions, cursors, receipts and verdicts are those of a log that is no more; what left this tablet comes with it anew. */
async function forgetPlaces(tx: RowTx<'events' | 'subjects' | 'meta'>): Promise<void> {
  const meta = tx.objectStore('meta');
  for (const key of await meta.getAllKeys()) {
    if (cursorTeam(key) !== undefined) await meta.put({ key, number: 0, old: 1 });
    if (key === 'refused' || key === 'forgotten' || isReceipt(key)) await meta.delete(key);
  }
  for (const { aside, ...row } of await tx.objectStore('events').getAll()) {
    await tx.objectStore('events').put({ ...row, pos: 0, ...(aside !== undefined && row.own === undefined ? { aside } : {}) });
  }
}

/** Takes the server's word on each event: its place, or why it was set aside. */
async function applyVerdicts(deps: PushDeps, batch: Batch, said: PushAnswerIn): Promise<ReadonlySet<string>> {
  const { store } = deps;
  const aside = said.verdicts.filter((one) => one.verdict === 'quarantined');
  const refusedBox = aside.length === 0 ? null : await store.seal('meta', 'refused', await addRefused(deps, aside));
  const touched = new Set<string>();
  await store.db.write(['events', 'subjects', 'meta'], async (tx) => {
    const meta = tx.objectStore('meta');
    for (const one of said.verdicts) {
      const key = refOf({ tablet: deps.tablet, n: one.n });
      const row = await tx.objectStore('events').get(key);
      if (row?.own !== one.n) continue;
      touched.add(row.subject);
      const { aside: _, ...rest } = row;
      await tx.objectStore('events').put(one.verdict === 'quarantined' ? { ...rest, aside: 1 } : { ...rest, pos: one.pos ?? row.pos });
    }
    // What was taken off this device stays out of sight.
    for (const subject of touched) {
      if ((await tx.objectStore('subjects').getKey(subject)) !== undefined) await markStale(tx.objectStore('subjects'), subject);
    }
    // A server that acknowledges more than was sent has met this tablet's id
    // before; what else waits here is sent all the same, for its verdict, and
    // numbers go on after what the server has.
    const n = (await meta.get('n'))?.number ?? 0;
    const sent = batch.from + batch.lines.length - 1;
    if (said.ack > n) {
      await meta.put({ key: 'n', number: said.ack });
      await meta.put({ key: ALTERED.whole, text: deps.now().toISOString() });
    }
    const ack = sent < n ? Math.min(said.ack, sent) : said.ack;
    await meta.put({ key: 'ack', number: ack });
    await noteReceipt(meta, deps.now(), said.server_time, { ack, pos: Math.max(0, ...said.verdicts.map((one) => one.pos ?? 0)) });
    await meta.put({ key: 'log', text: said.log });
    if (refusedBox !== null) await meta.put({ key: 'refused', box: refusedBox });
  });
  return touched;
}

async function addRefused(deps: PushDeps, aside: PushAnswerIn['verdicts']): Promise<readonly Refused[]> {
  const { store } = deps;
  const before = await readRefused(store);
  const added = await Promise.all(
    aside.map(async (one): Promise<Refused> => {
      const ref = refOf({ tablet: deps.tablet, n: one.n });
      const about = { ref, code: one.code ?? '', hint: one.hint ?? '', field: one.field ?? '' };
      const row = await store.db.read(['events'], (tx) => tx.objectStore('events').get(ref));
      if (row === undefined) return { ...about, kind: '', subject: '', at: '' };
      try {
        const event = readEvent(JSON.parse(new TextDecoder().decode(await store.openEvent(row))));
        const item = itemOf(event.body);
        return { ...about, kind: event.kind, subject: event.subject, at: event.at, ...(item === '' ? {} : { item }) };
      } catch {
        return { ...about, kind: '', subject: row.subject, at: '' };
      }
    }),
  );
  // The same verdict again, after a lost answer, does not open what was dealt with.
  const done = new Set(before.filter((one) => one.settled !== undefined).map((one) => one.ref));
  const news = added.filter((one) => !done.has(one.ref));
  const refs = new Set(news.map((one) => one.ref));
  return [...before.filter((one) => !refs.has(one.ref)), ...news];
}
