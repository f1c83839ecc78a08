/** What the lists show of a subject without reading its events. */
import type { Client, Control, Visit } from '../model.gen';
import * as v from '../schema';
import { SCHEMA_NOW, type StoredEvent } from './event';
import { isKind, type Folded } from './folds';
import type { VisitCard } from './types';

const briefSchema = v.object({
  id: v.string,
  client: v.string,
  team: v.string,
  startedAt: v.string,
  startedBy: v.string,
  signedAt: v.string,
  answered: v.number,
  needsChoice: v.number,
  checklist: v.string,
  level: v.string,
  interim: v.boolean,
  provisional: v.boolean,
  recheck: v.string,
  place: v.nullish(v.number, 0),
  secondOf: v.nullish(v.string, ''),
});

/** What this tablet's program made: known by its id and its team, the rest is as it was. */
const made = <T extends { readonly id: string; readonly team: string }>() =>
  v.custom<T>((value) => v.tryParse(v.object({ id: v.nonEmpty, team: v.string }), value) !== undefined, 'a subject with a team');

/** Entries that a newer version wrote; a later version folds the subject again. */
const newer = v.optional(v.number);

export const snapshotSchema = v.union('type', {
  client: v.object({ type: v.literal('client'), client: made<Client>(), newer }),
  visit: v.object({ type: v.literal('visit'), brief: briefSchema, newer }),
  control: v.object({ type: v.literal('control'), control: made<Control>(), newer }),
});

export interface VisitBrief extends Omit<VisitCard, 'sync' | 'blind'> {
  /** Where its start stands in the server's log, 0 while it waits. */
  readonly place: number;
}
interface Newer {
  readonly newer?: number;
}
export type Snapshot =
  | ({ readonly type: 'client'; readonly client: Client } & Newer)
  | ({ readonly type: 'visit'; readonly brief: VisitBrief } & Newer)
  | ({ readonly type: 'control'; readonly control: Control } & Newer);

/** The level that the latest result on this tablet gave. */
export interface Standing {
  readonly level: string;
  readonly interim: boolean;
  readonly provisional: boolean;
}

const noStanding: Standing = { level: '', interim: false, provisional: true };

export function standingOf(snapshot: Snapshot | undefined): Standing {
  return snapshot?.type === 'visit' ? snapshot.brief : noStanding;
}

function briefOf(visit: Visit, standing: Standing): VisitBrief {
  const given = visit.answers.filter((one) => one.heads.some((head) => head.state !== 'not-tested'));
  return {
    id: visit.id,
    client: visit.client,
    team: visit.team,
    place: visit.started.pos,
    startedAt: visit.started.at,
    startedBy: visit.started.by,
    signedAt: visit.signed?.at ?? '',
    answered: given.length,
    needsChoice: visit.answers.filter((one) => one.heads.length > 1).length,
    checklist: visit.checklist.hash,
    level: standing.level,
    interim: standing.interim,
    provisional: standing.provisional,
    recheck: visit.plan?.recheck ?? '',
    secondOf: visit.second_of ?? '',
  };
}

/** How many entries a newer version of the app wrote: they are kept, and change nothing here. */
export function newerIn(events: readonly StoredEvent[]): number {
  return events.filter(({ event, aside }) => !aside && (event.schema > SCHEMA_NOW || !isKind(event.kind))).length;
}

/** What lists show of what was folded; `unread` counts entries that this version cannot read. */
export function snapshotOf(folded: Folded, standing: Standing, unread: number): Snapshot {
  const more = unread === 0 ? {} : { newer: unread };
  switch (folded.type) {
    case 'client':
      return { type: 'client', client: folded.client, ...more };
    case 'control':
      return { type: 'control', control: folded.control, ...more };
    case 'visit':
      return { type: 'visit', brief: briefOf(folded.visit, standing), ...more };
  }
}

export function teamOf(snapshot: Snapshot): string {
  switch (snapshot.type) {
    case 'client':
      return snapshot.client.team;
    case 'visit':
      return snapshot.brief.team;
    case 'control':
      return snapshot.control.team;
  }
}
