/**
 * What became of entries that the server put aside: once somebody has dealt
 * with one, the tablet that sent it says so, with the note that was left.
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
  readonly teams: () => readonly string[];
}

/** Entries dealt with that stay in the list; older ones are with the server. */
const MOST_KEPT = 100;

type Settled = NonNullable<Refused['settled']>;

/** Asks about what is still open; true when something was dealt with since. */
export async function fetchSettled(deps: SettledDeps): Promise<boolean> {
  const open = (await readRefused(deps.store)).some((one) => one.settled === undefined);
  if (!open) return false;
  const found = new Map<string, Settled>();
  for (const team of deps.teams()) await askTeam(deps.http, team, found);
  return found.size > 0 && keep(deps, found);
}

async function askTeam(http: Http, team: string, found: Map<string, Settled>): Promise<void> {
  try {
    const answer = await http({ method: 'GET', path: `/api/v1/teams/${encodeURIComponent(team)}/quarantine` });
    for (const one of readAnswer(asideAnswer, answer.json).entries) {
      if (one.settled !== '') found.set(refOf(one), { at: one.settled, by: one.settled_by, note: one.note });
    }
  } catch (error) {
    // A team that this person has left says nothing about the others.
    if (!(error instanceof StoreError) || error.code !== 'refused') throw error;
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
