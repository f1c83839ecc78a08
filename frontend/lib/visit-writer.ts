import { openVisit, session, write, type Role } from '.';
import { formDrafts } from './form-drafts';
import { kindTable, type Kind, type Ref, type Visit } from './model.gen';
import { writeVisitEntry } from './records/visit-entry';

/** The person's role in a team; undefined when they are not in it. */
export function roleIn(team: string): Role | undefined {
  return session.value?.teams.find((one) => one.id === team)?.role;
}

export function mayWrite(role: Role | undefined, kind: Kind): boolean {
  return role !== undefined && kindTable[kind].roles.includes(role);
}

const AMENDING = 'amending';

/** Why a signed visit is being amended right now, by the person at this tablet; undefined when it is not. */
export function amendingReason(visit: string): string | undefined {
  const reason = formDrafts.of(visit).value[AMENDING]?.value;
  return typeof reason === 'string' ? reason : undefined;
}

export function startAmending(visit: string, reason: string): void {
  formDrafts.put(visit, AMENDING, { value: reason, before: null });
}

export function stopAmending(visit: string): void {
  formDrafts.put(visit, AMENDING, undefined);
}

/** Whether entries can be made: the visit is open, or it is signed and being amended. */
export function isOpen(visit: Visit): boolean {
  return visit.signed === undefined || amendingReason(visit.id) !== undefined;
}

/** Writes one event of a visit, which the person sees as `visit`; see records/visit-entry.ts. */
export function writeVisit(visit: Visit, kind: Kind, said: unknown): Promise<Ref> {
  const deps = {
    now: (id: string) => openVisit(id).peek()?.visit,
    amending: amendingReason,
    tablet: () => session.value?.tablet ?? '',
    write,
  };
  return writeVisitEntry(deps, visit, kind, said);
}
