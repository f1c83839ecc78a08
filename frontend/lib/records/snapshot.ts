/** What the lists show of a subject without reading its events. */
import { SCHEMA_NOW, type StoredEvent } from '../database/event';
import type { Snapshot, VisitBrief } from '../database/snapshot';
import type { Visit } from '../model.gen';
import { isKind, type Folded } from './folds';

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
