/** Body sites that can work a control: the same ids as in the records. */
import type { SiteId } from '../lib/model.gen';

export interface Site {
  readonly id: SiteId;
  readonly words: string;
  readonly region: RegionId;
}

export type RegionId =
  | 'face'
  | 'head'
  | 'shoulder-left'
  | 'shoulder-right'
  | 'arm-left'
  | 'arm-right'
  | 'hand-left'
  | 'hand-right'
  | 'knee-left'
  | 'knee-right'
  | 'foot-left'
  | 'foot-right';

export interface Region {
  readonly id: RegionId;
  readonly words: string;
  /** On which side of the seated figure it is drawn. */
  readonly view: 'front' | 'back' | 'both';
}

type Side = 'left' | 'right';

const parts: readonly (readonly [part: string, words: string, region: string])[] = [
  ['hand', 'hand', 'hand'],
  ['thumb', 'thumb', 'hand'],
  ['index', 'index finger', 'hand'],
  ['middle', 'middle finger', 'hand'],
  ['ring', 'ring finger', 'hand'],
  ['little', 'little finger', 'hand'],
  ['forearm', 'forearm', 'arm'],
  ['elbow', 'elbow', 'arm'],
  ['shoulder', 'shoulder', 'shoulder'],
  ['knee', 'knee', 'knee'],
  ['foot', 'foot', 'foot'],
  ['toe', 'big toe', 'foot'],
];

function paired(side: Side): readonly Site[] {
  return parts.map(([part, words, region]) => ({
    id: `${part}-${side}` as SiteId,
    words: `${side} ${words}`,
    region: `${region}-${side}` as RegionId,
  }));
}

/** Every site, most used first. */
export const sites: readonly Site[] = [
  { id: 'chin', words: 'chin', region: 'face' },
  { id: 'lip', words: 'lip', region: 'face' },
  { id: 'tongue', words: 'tongue', region: 'face' },
  { id: 'cheek-left', words: 'left cheek', region: 'face' },
  { id: 'cheek-right', words: 'right cheek', region: 'face' },
  { id: 'head-back', words: 'back of the head', region: 'head' },
  { id: 'head-left', words: 'left side of the head', region: 'head' },
  { id: 'head-right', words: 'right side of the head', region: 'head' },
  ...paired('right'),
  ...paired('left'),
];

function bothSides(part: string, view: Region['view']): readonly Region[] {
  return (['right', 'left'] as const).map((side) => ({ id: `${part}-${side}` as RegionId, words: `${side} ${part}`, view }));
}

/** The places on the figure. */
export const regions: readonly Region[] = [
  { id: 'face', words: 'face', view: 'front' },
  { id: 'head', words: 'head', view: 'back' },
  ...bothSides('shoulder', 'both'),
  ...bothSides('arm', 'both'),
  ...bothSides('hand', 'both'),
  ...bothSides('knee', 'front'),
  ...bothSides('foot', 'front'),
];

/** The words for a site id; one from a later version is shown as it is. */
export function siteWords(id: string): string {
  return sites.find((site) => site.id === id)?.words ?? id;
}

export function sitesIn(region: RegionId): readonly Site[] {
  return sites.filter((site) => site.region === region);
}

export function regionOf(id: string): RegionId | null {
  return sites.find((site) => site.id === id)?.region ?? null;
}
