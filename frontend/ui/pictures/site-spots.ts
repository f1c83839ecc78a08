/** Where the driving sites lie on the drawings, in each drawing's own units. */
import type { SiteId } from '../../lib/model.gen';

export type ViewId = 'front' | 'back' | 'side-right' | 'side-left' | 'head' | 'head-right' | 'head-left' | 'hand-right' | 'hand-left';

/** A place to tap: a site, or a part that is drawn larger in another view. */
export interface Spot {
  readonly x: number;
  readonly y: number;
  readonly site?: SiteId;
  readonly closer?: ViewId;
}

export interface SiteView {
  readonly id: ViewId;
  /** What is drawn, for those who do not see it. */
  readonly words: string;
  readonly box: { readonly x: number; readonly y: number; readonly wide: number; readonly high: number };
  /** The drawing is turned over, so that one hand or side serves for both. */
  readonly mirrored?: boolean;
  readonly spots: readonly Spot[];
}

type Side = 'left' | 'right';

/** Both sides of the person from the front: the client's right is at the left. */
function pair(part: string, x: number, y: number, rightFirst: boolean): readonly Spot[] {
  const [first, second]: readonly [Side, Side] = rightFirst ? ['right', 'left'] : ['left', 'right'];
  return [
    { x, y, site: `${part}-${first}` as SiteId },
    { x: 300 - x, y, site: `${part}-${second}` as SiteId },
  ];
}

const whole = { x: 0, y: 10, wide: 300, high: 392 };

const front: SiteView = {
  id: 'front',
  words: 'Seated person from the front',
  box: whole,
  spots: [
    { x: 150, y: 66, closer: 'head' },
    ...pair('shoulder', 104, 128, true),
    ...pair('forearm', 62, 198, true),
    { x: 66, y: 251, closer: 'hand-right' },
    { x: 234, y: 251, closer: 'hand-left' },
    ...pair('knee', 117, 288, true),
    ...pair('foot', 117, 370, true),
  ],
};

const back: SiteView = {
  id: 'back',
  words: 'Seated person from the back',
  box: whole,
  spots: [{ x: 150, y: 54, site: 'head-back' }, ...pair('shoulder', 98, 130, false), ...pair('elbow', 70, 196, false)],
};

function sideView(side: Side): SiteView {
  const at = (part: string, x: number, y: number): Spot => ({ x, y, site: `${part}-${side}` as SiteId });
  return {
    id: `side-${side}`,
    words: `Seated person from the ${side} side`,
    box: { x: 30, y: 10, wide: 280, high: 392 },
    mirrored: side === 'left',
    spots: [
      { x: 150, y: 78, closer: `head-${side}` },
      { x: 100, y: 78, site: 'head-back' },
      at('shoulder', 128, 140),
      at('elbow', 124, 208),
      at('forearm', 172, 212),
      { x: 220, y: 207, closer: `hand-${side}` },
      at('knee', 240, 252),
      at('foot', 238, 364),
      at('toe', 285, 372),
    ],
  };
}

const head: SiteView = {
  id: 'head',
  words: 'Head from the front',
  box: { x: 36, y: 4, wide: 188, high: 286 },
  spots: [
    { x: 63, y: 84, site: 'head-right' },
    { x: 197, y: 84, site: 'head-left' },
    { x: 86, y: 156, site: 'cheek-right' },
    { x: 174, y: 156, site: 'cheek-left' },
    { x: 130, y: 172, site: 'lip' },
    { x: 174, y: 196, site: 'tongue' },
    { x: 130, y: 208, site: 'chin' },
  ],
};

function headFrom(side: Side): SiteView {
  return {
    id: `head-${side}`,
    words: `Head from the ${side} side`,
    box: { x: 30, y: 4, wide: 200, high: 286 },
    mirrored: side === 'left',
    spots: [
      { x: 100, y: 58, site: `head-${side}` },
      { x: 54, y: 130, site: 'head-back' },
      { x: 160, y: 160, site: `cheek-${side}` },
      { x: 202, y: 168, site: 'lip' },
      { x: 186, y: 209, site: 'chin' },
    ],
  };
}

function hand(side: Side): SiteView {
  const at = (part: string, x: number, y: number): Spot => ({ x, y, site: `${part}-${side}` as SiteId });
  return {
    id: `hand-${side}`,
    words: `${side === 'right' ? 'Right' : 'Left'} hand from above`,
    box: { x: 18, y: 26, wide: 224, high: 280 },
    mirrored: side === 'left',
    spots: [
      at('thumb', 50, 158),
      at('index', 100, 88),
      at('middle', 138, 54),
      at('ring', 177, 76),
      at('little', 211, 112),
      at('hand', 142, 206),
    ],
  };
}

export const siteViews: readonly SiteView[] = [
  front,
  sideView('right'),
  sideView('left'),
  back,
  head,
  headFrom('right'),
  headFrom('left'),
  hand('right'),
  hand('left'),
];

/** The whole person, from four sides. */
export const wholeViews: readonly { readonly value: ViewId; readonly label: string }[] = [
  { value: 'front', label: 'Front' },
  { value: 'side-right', label: 'Right side' },
  { value: 'side-left', label: 'Left side' },
  { value: 'back', label: 'Back' },
];

export function viewOf(id: ViewId): SiteView {
  return siteViews.find((view) => view.id === id) ?? front;
}

/** The view that shows a site largest, or the front for none. */
export function closestView(site: string): ViewId {
  const showing = siteViews.filter((view) => view.spots.some((spot) => spot.site === site));
  const closest = showing.find((view) => view.id.startsWith('head') || view.id.startsWith('hand'));
  return (closest ?? showing[0] ?? front).id;
}

/** Where a spot is on the drawing as it is shown, in percent of its width and height. */
export function percentOf(view: SiteView, spot: { readonly x: number; readonly y: number }): readonly [x: number, y: number] {
  const x = ((spot.x - view.box.x) / view.box.wide) * 100;
  return [view.mirrored ? 100 - x : x, ((spot.y - view.box.y) / view.box.high) * 100];
}
