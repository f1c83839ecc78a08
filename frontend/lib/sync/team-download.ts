/**
 * Which teams' clients this person has on this device. Nothing clinical comes
 * onto it before somebody chose so. Who visits chooses by signing in here for
 * the first time; whoever leads a team has its caseload online and chooses by
 * pressing. The choice is kept sealed beside the person's rows.
 */
import { signal, type ReadonlySignal } from '@preact/signals';
import { draftsAbout } from '../database/drafts';
import type { EncryptedStore } from '../database/encrypted-store';
import { cursorKey } from '../database/rows';
import { teamOf } from '../database/snapshot';
import { StoreError } from '../errors';
import type { Outbox } from '../records/outbox';
import type { Membership, TeamDownload } from '../records/types';
import { readWaiting } from '../records/waiting';
import * as v from '../schema';
import { forgottenRow, readForgotten } from './forgotten';

export interface TeamDownloads {
  /** By team; only teams that this person is in. */
  readonly downloads: ReadonlySignal<ReadonlyMap<string, TeamDownload>>;
  /** The person's teams; a team that is met for the first time gets its role's choice. */
  readonly setTeams: (teams: readonly Membership[]) => Promise<void>;
  /** Every team of the person, on this device or not. */
  readonly teams: () => readonly string[];
  /** Teams to take in. */
  readonly chosen: () => readonly string[];
  /** Whether the choice still stands on disk, where another tab may have changed it. */
  readonly goesOn: (team: string) => Promise<boolean>;
  readonly choose: (team: string, choice: 'on' | 'paused') => Promise<void>;
  /**
   * Takes a team's rows off the device and names their subjects; refused while
   * something of the team is on this device only. What the person wrote stays
   * sealed and out of sight: a restored server asks for it again.
   */
  readonly remove: (team: string) => Promise<ReadonlySet<string>>;
  /** Reads again what another tab or a page that came in has changed. */
  readonly read: () => Promise<void>;
  readonly close: () => void;
}

const choiceSchema = v.literal('on', 'paused', 'off');

export function createTeamDownloads({ store, outbox }: { readonly store: EncryptedStore; readonly outbox: Outbox }): TeamDownloads {
  const downloads = signal<ReadonlyMap<string, TeamDownload>>(new Map());
  let teams: readonly Membership[] = [];
  let closed = false;

  const chosenOnDisk = async (team: string): Promise<TeamDownload['choice'] | undefined> =>
    v.tryParse(choiceSchema, await store.secret(keyOf(team)));

  const write = (team: string, choice: TeamDownload['choice']): Promise<void> => store.keepSecret(keyOf(team), choice);

  const read = async (): Promise<void> => {
    const all = await Promise.all(
      teams.map(async ({ id }): Promise<[string, TeamDownload]> => {
        const [choice, place] = [(await chosenOnDisk(id)) ?? 'off', await store.place(id)];
        return [id, { choice, complete: place.done, entries: place.count }];
      }),
    );
    downloads.value = new Map(all);
  };

  return {
    downloads,
    read,
    teams: () => teams.map((team) => team.id),
    setTeams: async (list) => {
      teams = list;
      for (const { id, role } of list) {
        if ((await chosenOnDisk(id)) !== undefined) continue;
        // Rows from before there was a choice are not left behind without one.
        if (role !== 'lead' || (await store.place(id)).after > 0) await write(id, 'on');
      }
      await read();
    },
    chosen: () => [...downloads.peek()].filter(([, pack]) => pack.choice === 'on').map(([team]) => team),
    goesOn: async (team) => !closed && (await chosenOnDisk(team)) === 'on',
    choose: async (team, choice) => {
      await outbox.exclusive(() => write(team, choice));
      await read();
    },
    remove: async (team) => {
      const gone = await outbox.exclusive(() => removeRows(store, team));
      await read();
      return gone;
    },
    close: () => {
      closed = true;
    },
  };
}

function keyOf(team: string): string {
  return `packed:${team}`;
}

/** All in one transaction: a device never holds half of what was taken off. */
async function removeRows(store: EncryptedStore, team: string): Promise<ReadonlySet<string>> {
  const subjects = await subjectsOf(store, team);
  await refuseUnsent(store, subjects);
  const { places } = await draftsAbout(store, subjects);
  const box = await store.seal('meta', keyOf(team), 'off');
  const forgotten = await forgottenRow(
    store,
    (await readForgotten(store)).filter((one) => one.team !== team),
  );
  await store.db.write(['events', 'subjects', 'results', 'meta', 'drafts'], async (tx) => {
    const events = tx.objectStore('events');
    for (const key of places) await tx.objectStore('drafts').delete(key);
    const own = new Set(await events.index('own').getAllKeys());
    for (const subject of subjects) {
      const pulled = (await events.index('subject').getAllKeys(subject)).filter((key) => !own.has(key));
      await Promise.all([
        ...pulled.map((key) => events.delete(key)),
        tx.objectStore('subjects').delete(subject),
        tx.objectStore('results').delete(subject),
      ]);
    }
    await tx.objectStore('meta').delete(cursorKey(team));
    await tx.objectStore('meta').put({ key: keyOf(team), box });
    await tx.objectStore('meta').put(forgotten);
  });
  return subjects;
}

/** Clients and visits of a team; one that cannot be shown is known by where its entries came from. */
async function subjectsOf(store: EncryptedStore, team: string): Promise<ReadonlySet<string>> {
  const { ready, stale } = await store.snapshots();
  const subjects = new Set<string>();
  for (const [subject, snapshot] of ready) {
    if (teamOf(snapshot) === team) subjects.add(subject);
  }
  for (const subject of stale) {
    if (!ready.has(subject) && (await store.pulledFrom(subject)) === team) subjects.add(subject);
  }
  return subjects;
}

async function refuseUnsent(store: EncryptedStore, subjects: ReadonlySet<string>): Promise<void> {
  const { of } = await readWaiting(store);
  let unsent = (await draftsAbout(store, subjects)).work.length;
  for (const [subject, count] of of) {
    if (subjects.has(subject)) unsent += count;
  }
  if (unsent === 0) return;
  const things =
    unsent === 1 ? 'One entry, run or unsaved text of this team is' : `${unsent} entries, runs or unsaved texts of this team are`;
  throw new StoreError('refused', `${things} on this device only. Send what waits, finish what was begun, and try again.`);
}
