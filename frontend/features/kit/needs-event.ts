import type { Kind, NeedsNoted, NeedsUnset, Visit } from '../../lib/model.gen';

type Part = { readonly [Field in keyof NeedsNoted]?: NeedsNoted[Field] | undefined };

function isBlank(value: unknown): boolean {
  return value === undefined || value === '';
}

/**
 * The event that says a part of the needs. What is blank is taken back: a field,
 * or the moisture of a site. An empty reason takes a ruled-out site back in by
 * itself, as it always did.
 */
export function needsEvent(part: Part): readonly [Kind, NeedsNoted | NeedsUnset] {
  const moist = Object.entries(part.moisture ?? {})
    .filter(([, word]) => isBlank(word))
    .map(([site]) => `moisture.${site}`);
  const fields = [
    ...Object.entries(part)
      .filter(([, value]) => isBlank(value))
      .map(([field]) => field),
    ...moist,
  ];
  return fields.length > 0 ? ['needs-unset', { fields }] : ['needs-noted', part as NeedsNoted];
}

/**
 * The course of the condition as it goes along with an answer: it is said on the
 * client's page and nowhere else, and the visit's result needs it. A visit that was
 * signed keeps what it was signed with.
 */
export function courseAlong(visit: Pick<Visit, 'needs' | 'signed'>, course: string | undefined): Pick<NeedsNoted, 'course'> {
  return course && visit.signed === undefined && course !== visit.needs?.course ? { course } : {};
}
