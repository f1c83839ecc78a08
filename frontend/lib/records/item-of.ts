import * as v from '../schema';

const aboutItem = v.object({ item: v.nonEmpty });
const amendment = v.object({ change: v.unknown });

/** The item of the checklist that a body is about, also one that amends; empty where there is none. */
export function itemOf(body: unknown): string {
  return (v.tryParse(aboutItem, body) ?? v.tryParse(aboutItem, v.tryParse(amendment, body)?.change))?.item ?? '';
}
