import { StoreError, openVisit, session, write, type Role } from '.';
import { formDrafts } from './form-drafts';
import { kindTable, type AnswerGiven, type Kind, type Ref, type Visit } from './model.gen';
import { withInUse } from './records/in-use';
import { withReplaced } from './records/replaced';

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

/**
 * Writes one event of a visit. An answer names those that it replaces: what `visit`,
 * which the person sees, has of its item. What is about a control names the one of the
 * set-up. On a signed visit the event goes out as an
 * amendment with the reason that was given; without one it is refused. Signed counts
 * as it is now: a field that is taken off the page because somebody signed hands on
 * what stands in it with the visit of before, and what comes after signing would be
 * set aside.
 */
export async function writeVisit(visit: Visit, kind: Kind, said: unknown): Promise<Ref> {
  const named = withInUse(visit, kind, said);
  const body = kind === 'answer-given' ? withReplaced(visit, named as AnswerGiven, session.value?.tablet ?? '') : named;
  const { signed } = openVisit(visit.id).peek()?.visit ?? visit;
  if (signed === undefined) return write(kind, visit.id, body);
  const reason = amendingReason(visit.id);
  if (reason === undefined) throw new StoreError('refused', 'This visit is signed. Choose “Amend” and say why first.');
  return write('amendment-made', visit.id, { reason, kind, change: body });
}
