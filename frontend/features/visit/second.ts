/** Which visits another therapist can rate a second time. */
import type { VisitCard } from '../../lib';

/** Visits that somebody else than `me` began and that have no second rating yet, newest first. */
export function ratable(cards: readonly VisitCard[], me: string): readonly VisitCard[] {
  const rated = new Set(cards.map((card) => card.secondOf));
  return cards.filter((card) => card.startedBy !== me && card.secondOf === '' && !rated.has(card.id));
}
