/**
 * What the lists show of a subject without reading its events. A snapshot is
 * written in the same transaction as the event that changed it.
 */
import type { Client, Control, Visit } from '../model.gen';
import * as v from '../schema';
import { isKind } from './body';
import { SCHEMA_NOW, type StoredEvent } from './event';
import { foldClient, foldControl, foldVisit } from './fold';
import type { VisitCard } from './types';

const stampFields = { ref: v.string, by: v.string, at: v.string, pos: v.number };
const stamp = v.object(stampFields);

const clientSchema = v.object({
  id: v.string,
  team: v.string,
  ref: v.string,
  name: v.string,
  born: v.string,
  referred: v.string,
  priority: v.string,
  course: v.string,
  reason: v.string,
  visiting: v.string,
  assignee: v.string,
  status: v.string,
  version: v.number,
  opened: stamp,
  changed: stamp,
});

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

const controlSchema = v.object({
  id: v.string,
  ...stampFields,
  team: v.string,
  name: v.string,
  class: v.string,
  start_gf: v.number,
  operate_gf: v.number,
  travel_mm: v.number,
  lever_mm: v.optional(v.number),
  sealing: v.optional(v.string),
  power_jack: v.boolean,
  mode_jack: v.boolean,
  connector: v.optional(v.string),
  attendant: v.boolean,
  weight_g: v.optional(v.number),
  mounts: v.optional(v.list(v.string)),
  measured: v.optional(v.string),
  measured_by: v.optional(v.string),
  gone: v.optional(v.boolean),
});

/** Entries that a newer version wrote; a later version folds the subject again. */
const newer = v.optional(v.number);

export const snapshotSchema = v.union('type', {
  client: v.object({ type: v.literal('client'), client: clientSchema, newer }),
  visit: v.object({ type: v.literal('visit'), brief: briefSchema, newer }),
  control: v.object({ type: v.literal('control'), control: controlSchema, newer }),
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

export const noStanding: Standing = { level: '', interim: false, provisional: true };

export function standingOf(snapshot: Snapshot | undefined): Standing {
  return snapshot?.type === 'visit' ? snapshot.brief : noStanding;
}

export function briefOf(visit: Visit, standing: Standing): VisitBrief {
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

function isAboutClient(events: readonly StoredEvent[]): boolean {
  return events.some((one) => one.event.kind.startsWith('client-'));
}

function isAboutControl(events: readonly StoredEvent[]): boolean {
  return events.some((one) => one.event.kind.startsWith('control-'));
}

const folded = new WeakMap<readonly StoredEvent[], Visit>();

/** A visit as its events say, without those set aside; folded once for each list. */
export function foldHeld(events: readonly StoredEvent[]): Visit {
  const had = folded.get(events);
  if (had !== undefined) return had;
  const visit = foldVisit(events.filter((one) => !one.aside));
  folded.set(events, visit);
  return visit;
}

/** How many entries a newer version of the app wrote: they are kept, and change nothing here. */
export function newerIn(events: readonly StoredEvent[]): number {
  return events.filter(({ event, aside }) => !aside && (event.schema > SCHEMA_NOW || !isKind(event.kind))).length;
}

/** Folds a subject's events to what lists show; null when its beginning is not here. */
export function snapshotOf(events: readonly StoredEvent[], before: Snapshot | undefined): Snapshot | null {
  const [snapshot, count] = [foldToSnapshot(events, before), newerIn(events)];
  return snapshot === null || count === 0 ? snapshot : { ...snapshot, newer: count };
}

function foldToSnapshot(events: readonly StoredEvent[], before: Snapshot | undefined): Snapshot | null {
  if (isAboutClient(events)) {
    const client = foldClient(events.filter((one) => !one.aside));
    return client.id === '' ? null : { type: 'client', client };
  }
  if (isAboutControl(events)) {
    const control = foldControl(events.filter((one) => !one.aside));
    return control === null ? null : { type: 'control', control };
  }
  const visit = foldHeld(events);
  if (visit.id === '') return null;
  return { type: 'visit', brief: briefOf(visit, { ...standingOf(before), provisional: true }) };
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
