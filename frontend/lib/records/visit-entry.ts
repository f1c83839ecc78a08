/** Entries of a visit, which go out as amendments once it is signed. */
import { StoreError } from '../errors';
import type { AnswerGiven, Kind, Ref, Visit } from '../model.gen';
import { withInUse } from './in-use';
import { withReplaced } from './replaced';

export interface VisitEntryDeps {
  /** The visit as the tablet has it now; undefined while it is not open. */
  readonly now: (visit: string) => Visit | undefined;
  /** Why a signed visit is being amended; undefined when it is not. */
  readonly amending: (visit: string) => string | undefined;
  /** The name of this tablet; empty while nobody is signed in. */
  readonly tablet: () => string;
  readonly write: (kind: Kind, visit: string, body: unknown) => Promise<Ref>;
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
export async function writeVisitEntry(deps: VisitEntryDeps, visit: Visit, kind: Kind, said: unknown): Promise<Ref> {
  const named = withInUse(visit, kind, said);
  const body = kind === 'answer-given' ? withReplaced(visit, named as AnswerGiven, deps.tablet()) : named;
  const { signed } = deps.now(visit.id) ?? visit;
  if (signed === undefined) return deps.write(kind, visit.id, body);
  const reason = deps.amending(visit.id);
  if (reason === undefined) throw new StoreError('refused', 'This visit is signed. Choose “Amend” and say why first.');
  return deps.write('amendment-made', visit.id, { reason, kind, change: body });
}
