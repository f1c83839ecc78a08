/**
 * What leaves this tablet thirty days after the server acknowledged it: closed
 * clients with their visits, and what somebody wrote about a team that was taken
 * off the device. Unsent, set aside, unsigned, awaiting a choice or still being
 * typed, it stays; so does every client who is not closed. All of a client
 * leaves in one transaction or none of it.
 */
import { draftsAbout } from '../database/drafts';
import type { EncryptedStore } from '../database/encrypted-store';
import { firmOf, type Firm } from '../database/receipts';
import { cursorTeam, type EventRow, type MetaRow } from '../database/rows';
import type { Outbox } from '../records/outbox';
import { forgottenRow, readForgotten } from './forgotten';

interface Deps {
  readonly store: EncryptedStore;
  readonly outbox: Outbox;
}

/** A closed client with all visits. */
interface Leaving {
  readonly team: string;
  readonly subjects: readonly string[];
  readonly rows: readonly EventRow[];
}

/** Once a day, after a complete exchange; gives the subjects that are gone. */
export function forgetOld({ store, outbox }: Deps): Promise<ReadonlySet<string>> {
  return outbox.exclusive(async () => {
    const before = await store.db.read(['meta'], (tx) => tx.objectStore('meta').getAll());
    const [firm, numbers] = [firmOf(before), new Map(before.map((row) => [row.key, row.number ?? 0]))];
    const last = { key: 'forgot', number: firm.today };
    if (firm.pos === 0 || numbers.get(last.key) === firm.today) return new Set();
    const bound = { ...firm, ack: Math.min(firm.ack, numbers.get('ack') ?? 0) };
    const leaving = await closed(store, bound);
    const rows = [...leaving.flatMap((one) => one.rows), ...(await outOfSight(store, bound))];
    if (rows.length === 0) {
      await store.db.write(['meta'], (tx) => tx.objectStore('meta').put(last));
      return new Set();
    }
    const list = await forgottenRow(store, [
      ...(await readForgotten(store)),
      ...leaving.map(({ team, subjects }) => ({ team, subjects, back: false })),
    ]);
    const gone = leaving.flatMap((one) => one.subjects);
    const { places } = await draftsAbout(store, gone);
    const most = Math.max(numbers.get('gone') ?? 0, ...rows.map((row) => row.own ?? 0));
    return store.db.write(['events', 'subjects', 'results', 'meta', 'drafts'], async (tx) => {
      const meta = tx.objectStore('meta');
      // Where there are no locks across tabs, another one may have been at it.
      if (standing(await meta.getAll()) !== standing(before)) return new Set<string>();
      for (const { key } of rows) await tx.objectStore('events').delete(key);
      for (const one of gone) {
        await tx.objectStore('subjects').delete(one);
        await tx.objectStore('results').delete(one);
      }
      for (const key of places) await tx.objectStore('drafts').delete(key);
      for (const row of [last, list, { key: 'gone', number: most }]) await meta.put(row);
      return new Set(gone);
    });
  });
}

/** What an exchange or a new entry moves. */
function standing(rows: readonly MetaRow[]): string {
  return rows
    .filter(({ key }) => ['n', 'ack', 'log'].includes(key) || cursorTeam(key) !== undefined)
    .map((row) => `${row.key} ${row.number} ${row.text}`)
    .join();
}

async function closed(store: EncryptedStore, firm: Firm): Promise<readonly Leaving[]> {
  const { ready, stale } = await store.snapshots();
  const groups = new Map<string, string[]>();
  for (const [id, one] of ready) {
    if (one.type === 'client' && one.client.status === 'closed') groups.set(id, [id]);
  }
  const open = new Set(stale);
  for (const [id, one] of ready) {
    if (one.type !== 'visit') continue;
    groups.get(one.brief.client)?.push(id);
    if (one.brief.signedAt === '' || one.brief.needsChoice > 0) open.add(id);
  }
  const leaving: Leaving[] = [];
  for (const [client, subjects] of groups) {
    if (subjects.some((one) => open.has(one)) || (await draftsAbout(store, subjects)).work.length > 0) continue;
    const rows = await store.db.read(['events'], async (tx) =>
      (await Promise.all(subjects.map((one) => tx.objectStore('events').index('subject').getAll(one)))).flat(),
    );
    const team = ready.get(client);
    if (rows.every((row) => isFirm(row, firm)) && team?.type === 'client') leaving.push({ team: team.client.team, subjects, rows });
  }
  return leaving;
}

function isFirm({ aside, pos, own }: EventRow, firm: Firm): boolean {
  return aside === undefined && pos > 0 && pos <= firm.pos && (own ?? 0) <= firm.ack;
}

/** Own entries about what is not shown here: kept only for a restored server. */
async function outOfSight(store: EncryptedStore, firm: Firm): Promise<readonly EventRow[]> {
  return store.db.read(['events', 'subjects'], async (tx) => {
    const shown = new Set(await tx.objectStore('subjects').getAllKeys());
    const own = await tx.objectStore('events').index('own').getAll(IDBKeyRange.upperBound(firm.ack));
    return own.filter((row) => !shown.has(row.subject) && isFirm(row, firm));
  });
}
