/**
 * What the lists show of a subject without reading its events. A snapshot is
 * written in the same transaction as the event that changed it.
 */
import * as v from 'valibot';
import type { Client, Visit } from '../model.gen';
import type { Held } from './shelf';
import { foldClient, foldVisit } from './fold';
import type { VisitCard } from './types';

const stamp = v.object({ ref: v.string(), by: v.string(), at: v.string(), pos: v.number() });

const clientSchema = v.object({
  id: v.string(), team: v.string(), ref: v.string(), name: v.string(), born: v.string(), referred: v.string(),
  priority: v.string(), course: v.string(), reason: v.string(), visiting: v.string(),
  assignee: v.string(), status: v.string(), version: v.number(), opened: stamp, changed: stamp,
});

const briefSchema = v.object({
  id: v.string(), client: v.string(), team: v.string(), startedAt: v.string(), startedBy: v.string(), signedAt: v.string(),
  answered: v.number(), needsChoice: v.number(), checklist: v.string(), level: v.string(), interim: v.boolean(),
  provisional: v.boolean(), recheck: v.string(),
});

export const snapshotSchema = v.variant('type', [
  v.object({ type: v.literal('client'), client: clientSchema }),
  v.object({ type: v.literal('visit'), brief: briefSchema }),
]);

export type VisitBrief = Omit<VisitCard, 'sync'>;
export type Snapshot = { readonly type: 'client'; readonly client: Client } | { readonly type: 'visit'; readonly brief: VisitBrief };

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
    id: visit.id, client: visit.client, team: visit.team,
    startedAt: visit.started.at, startedBy: visit.started.by, signedAt: visit.signed?.at ?? '',
    answered: given.length,
    needsChoice: visit.answers.filter((one) => one.heads.length > 1).length,
    checklist: visit.checklist.hash,
    level: standing.level, interim: standing.interim, provisional: standing.provisional,
    recheck: visit.plan?.recheck ?? '',
  };
}

function isAboutClient(events: readonly Held[]): boolean {
  return events.some((one) => one.event.kind.startsWith('client-'));
}

const folded = new WeakMap<readonly Held[], Visit>();

/** A visit as its events say, without those set aside; folded once for each list. */
export function foldHeld(events: readonly Held[]): Visit {
  const had = folded.get(events);
  if (had !== undefined) return had;
  const visit = foldVisit(events.filter((one) => !one.aside));
  folded.set(events, visit);
  return visit;
}

/** Folds a subject's events to what lists show; null when its beginning is not here. */
export function snapshotOf(events: readonly Held[], before: Snapshot | undefined): Snapshot | null {
  if (isAboutClient(events)) {
    const client = foldClient(events.filter((one) => !one.aside));
    return client.id === '' ? null : { type: 'client', client };
  }
  const visit = foldHeld(events);
  if (visit.id === '') return null;
  return { type: 'visit', brief: briefOf(visit, { ...standingOf(before), provisional: true }) };
}

export function teamOf(snapshot: Snapshot): string {
  return snapshot.type === 'client' ? snapshot.client.team : snapshot.brief.team;
}
