/**
 * What became of entries that the server put aside: once somebody has dealt
 * with one, or the server could take it in after all, the tablet that sent it
 * says so, with the note that was left.
 */
import type { Http } from '../api/http';
import { asideAnswer, readAnswer } from '../api/schemas';
import type { EncryptedStore } from '../database/encrypted-store';
import { refOf } from '../database/event';
import { StoreError } from '../errors';
import type { Outbox } from '../records/outbox';
import { readRefused } from '../records/refused';
import type { Refused } from '../records/types';

interface SettledDeps {
  readonly store: EncryptedStore;
  readonly outbox: Outbox;
  readonly http: Http;
}

/** Entries dealt with that stay in the list; older ones are with the server. */
const MOST_KEPT = 100;

const CONFIRMED = 'Confirmed, and judged again as if it had just arrived.';
const TAKEN_IN = 'Taken in: the server could read it after all, and it counts from now on.';

type Settled = NonNullable<Refused['settled']>;

/** Asks about what is still open; true when something was dealt with since. */
export async function fetchSettled(deps: SettledDeps): Promise<boolean> {
  const open = (await readRefused(deps.store)).some((one) => one.settled === undefined);
  if (!open) return false;
  const found = await askClosed(deps.http).catch(ifUnknown);
  return found.size > 0 && keep(deps, found);
}

/** An older server does not know the question. */
function ifUnknown(error: unknown): ReadonlyMap<string, Settled> {
  if (error instanceof StoreError && error.code === 'refused') return new Map();
  throw error;
}

/** The person's own entries with which nobody has to deal any more, in any team, also one that they have left. */
async function askClosed(http: Http): Promise<ReadonlyMap<string, Settled>> {
  const found = new Map<string, Settled>();
  for (let after = '0'; ;) {
    const answer = await http({ method: 'GET', path: `/api/v1/quarantine?state=closed&after=${encodeURIComponent(after)}` });
    const page = readAnswer(asideAnswer, answer.json);
    for (const one of page.entries) {
      if (one.settled !== '')
        found.set(refOf(one), { at: one.settled, by: one.settled_by, note: one.confirmed ? `${CONFIRMED} ${one.note}`.trim() : one.note });
      else if (one.placed !== '') found.set(refOf(one), { at: one.placed, by: '', note: TAKEN_IN });
    }
    if (!page.more || page.next === after) return found;
    after = page.next;
  }
}

/** Notes what was settled; the list is read again, as a push may have added to it. */
function keep(deps: SettledDeps, found: ReadonlyMap<string, Settled>): Promise<boolean> {
  return deps.outbox.exclusive(async () => {
    const before = await readRefused(deps.store);
    const news = before.filter((one) => one.settled === undefined && found.has(one.ref));
    if (news.length === 0) return false;
    const open = before.filter((one) => one.settled === undefined && !found.has(one.ref));
    const done = [...before.filter((one) => one.settled !== undefined), ...news.map((one) => withSettled(one, found.get(one.ref)))];
    await deps.store.keepSecret('refused', [...open, ...done.slice(-MOST_KEPT)]);
    return true;
  });
}

function withSettled(one: Refused, settled: Settled | undefined): Refused {
  return settled === undefined ? one : { ...one, settled };
}
