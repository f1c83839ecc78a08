/** Body sites that can work a control: the same ids as in the records. */
import type { SiteId, Visit } from '../lib/model.gen';

export interface Site {
  readonly id: SiteId;
  readonly words: string;
}

type Side = 'left' | 'right';

const parts: readonly (readonly [part: string, words: string])[] = [
  ['hand', 'hand'],
  ['thumb', 'thumb'],
  ['index', 'index finger'],
  ['middle', 'middle finger'],
  ['ring', 'ring finger'],
  ['little', 'little finger'],
  ['forearm', 'forearm'],
  ['elbow', 'elbow'],
  ['shoulder', 'shoulder'],
  ['knee', 'knee'],
  ['foot', 'foot'],
  ['toe', 'big toe'],
];

function paired(side: Side): readonly Site[] {
  return parts.map(([part, words]) => ({ id: `${part}-${side}` as SiteId, words: `${side} ${words}` }));
}

/** Every site, most used first. */
export const sites: readonly Site[] = [
  { id: 'chin', words: 'chin' },
  { id: 'lip', words: 'lip' },
  { id: 'tongue', words: 'tongue' },
  { id: 'cheek-left', words: 'left cheek' },
  { id: 'cheek-right', words: 'right cheek' },
  { id: 'head-back', words: 'back of the head' },
  { id: 'head-left', words: 'left side of the head' },
  { id: 'head-right', words: 'right side of the head' },
  ...paired('right'),
  ...paired('left'),
];

/** The words for a site id; one from a later version is shown as it is. */
export function siteWords(id: string): string {
  return sites.find((site) => site.id === id)?.words ?? id;
}

/** Sites with readings of a visit that count, and those that were ruled out. */
export function sitesTried(visit: Visit): { readonly measured: ReadonlySet<string>; readonly aside: ReadonlySet<string> } {
  const measured = new Set(visit.readings.filter((one) => one.slip === undefined).map((one) => one.site));
  return { measured, aside: new Set(Object.keys(visit.needs?.rejected ?? {})) };
}
