/**
 * Two therapists who rate the same trial must not see each other's answers
 * until both have signed. The entries are on both tablets, so that nothing
 * depends on a network; they are not shown.
 */
import type { VisitBrief } from '../database/snapshot';
import type { Visit } from '../model.gen';
import type { VisitCard, VisitView } from './types';

type Rated = Pick<VisitBrief, 'id' | 'startedBy' | 'signedAt' | 'secondOf'>;

function sameTrial(a: Rated, b: Rated): boolean {
  return a.secondOf === b.id || b.secondOf === a.id;
}

/** Whether a visit is hidden from a person, given the client's visits. */
export function blindTo(person: string, visit: Rated, visits: readonly Rated[]): boolean {
  if (visit.startedBy === person) return false;
  return visits.some((own) => own.startedBy === person && sameTrial(own, visit) && (own.signedAt === '' || visit.signedAt === ''));
}

/** The view without what was said: who, when and with which checklist is left. */
export function hidden(view: VisitView): VisitView {
  const { id, client, team, checklist, unit, started, second_of: second, signed, unknown } = view.visit;
  const visit: Visit = {
    id,
    client,
    team,
    checklist,
    unit,
    started,
    unknown,
    notes: {},
    answers: [],
    readings: [],
    runs: [],
    amendments: [],
    ...(second === undefined ? {} : { second_of: second }),
    ...(signed === undefined ? {} : { signed }),
  };
  return { ...view, visit, result: null, differs: false };
}

/** The visits that another therapist can rate a second time: those that somebody else than `me` began and that have no second rating yet, newest first. */
export function ratable(cards: readonly VisitCard[], me: string): readonly VisitCard[] {
  const rated = new Set(cards.map((card) => card.secondOf));
  return cards.filter((card) => card.startedBy !== me && card.secondOf === '' && !rated.has(card.id));
}
