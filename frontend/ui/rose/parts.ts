import type { RoseArm, Rose } from '../../lib/model.gen';
import { numberWords } from '../words';
import { boxAround, firstFree, inside, wordsWide, type Box } from './layout';
import { logScale, type LogScale } from './scale';
import { standing } from './standing';

/** The drawing's own measure; the page shows it at whatever size there is. */
export interface Frame {
  readonly wide: number;
  readonly high: number;
  /** Of the middle, how far it reaches, and where the shortest and the longest arm end. */
  readonly hub: number;
  readonly least: number;
  readonly most: number;
}

export const ROSE: Frame = { wide: 600, high: 620, hub: 34, least: 56, most: 230 };
/**
 * For a narrow place: shorter arms, so that words stay as large, and the names of ahead
 * and back beside their arms, so that the pad has room below. Four directions have room in it.
 */
export const SMALL_ROSE: Frame = { wide: 412, high: 280, hub: 32, least: 50, most: 125 };

/** What all that is drawn stands on. */
interface Ground {
  readonly frame: Frame;
  readonly scale: LogScale;
  /** Half the width of an arm at a distance from the middle. */
  readonly half: (radius: number) => number;
  readonly pill: number;
}

/** Which way an arm points, in degrees clockwise from ahead. */
const TURNS: Readonly<Record<string, number>> = {
  forward: 0,
  'forward-right': 45,
  right: 90,
  'reverse-right': 135,
  reverse: 180,
  'reverse-left': 225,
  left: 270,
  'forward-left': 315,
};

/** Words in the drawing with the box that they fill. */
export interface Label extends Box {
  readonly text: string;
  readonly size: number;
}

export interface ArmParts {
  readonly id: string;
  readonly words: string;
  readonly turn: number;
  readonly chosen: boolean;
  /** The chosen control does not need this direction. */
  readonly pale: boolean;
  /** Outlines of the arm, which points up before it is turned, with their ends from the middle; the longer one first. */
  readonly shapes: readonly {
    readonly of: 'rested' | 'tired' | 'assumed';
    readonly path: string;
    readonly end: number;
    /** Fewer readings than are wanted. */
    readonly few: boolean;
  }[];
  /** Across the arm where it is too short, and the half of its width. */
  readonly bar: { readonly at: number; readonly half: number } | null;
  /** Across the arm where it has a ring of its own, because others are asked something else. */
  readonly asked: { readonly at: number; readonly half: number } | null;
  /** From the smallest to the largest reading, beside the arm where they lie far apart. */
  readonly whisker: { readonly from: number; readonly to: number; readonly aside: number; readonly far: boolean } | null;
  readonly apart: Label | null;
  /** The tired figure. */
  readonly pill: Label | null;
  /** Name, rested figure and what is wrong. */
  readonly name: Box & { readonly figure: string; readonly figureSize: number; readonly wrong: string };
}

export interface Ring {
  readonly at: number;
  readonly label: Label | null;
}

export interface RoseParts {
  readonly frame: Frame;
  readonly scale: LogScale;
  readonly grid: readonly (Ring & { readonly value: number })[];
  /** What the control asks in every needed direction, and three times that; null where it is not the same for all. */
  readonly asked: Ring | null;
  readonly plenty: Ring | null;
  readonly arms: readonly ArmParts[];
  /** The press in the middle. */
  readonly hub: { readonly id: string; readonly figure: string; readonly chosen: boolean } | null;
}

export interface RoseLook {
  /** The direction that is being measured. */
  readonly chosen: string;
  readonly words: (id: string) => string;
  /** Readings that make a figure steady. */
  readonly wanted: number;
  /** For a narrow place. */
  readonly small?: boolean | undefined;
}

/** The frame in which a rose is drawn: eight directions have room in the large one only. */
export function frameOf(rose: Rose, look: Pick<RoseLook, 'small'>): Frame {
  return look.small && rose.arms.filter((arm) => arm.id in TURNS).length <= 4 ? SMALL_ROSE : ROSE;
}

function radiusOf({ frame, scale }: Ground, value: number): number {
  return value > 0 ? frame.least + (frame.most - frame.least) * scale.at(value) : frame.hub + 10;
}

/** A point at so far from the middle, in a direction. */
function point({ frame }: Ground, turn: number, radius: number, aside = 0): { readonly x: number; readonly y: number } {
  const angle = (turn * Math.PI) / 180;
  const [sin, cos] = [Math.sin(angle), Math.cos(angle)];
  return { x: frame.wide / 2 + radius * sin + aside * cos, y: frame.high / 2 - radius * cos + aside * sin };
}

function groundOf(frame: Frame, scale: LogScale, arms: number): Ground {
  const [narrow, wide, pill] = arms > 4 ? [11, 27, 17] : frame === ROSE ? [18, 40, 23] : [16, 32, 20];
  return { frame, scale, pill, half: (radius) => narrow + ((wide - narrow) * (radius - frame.hub)) / (frame.most - frame.hub) };
}

function armPath(end: number, { frame, half: halfAt }: Ground): string {
  const [foot, half] = [halfAt(frame.hub - 10), halfAt(end)];
  const shoulder = Math.max(frame.hub - 8, end - half * 0.55);
  const n = (x: number) => numberWords(x, 1);
  return `M${n(-foot)} -24L${n(-half)} ${n(-shoulder)}Q${n(-half)} ${n(-end)} 0 ${n(-end)}Q${n(half)} ${n(-end)} ${n(half)} ${n(-shoulder)}L${n(foot)} -24Z`;
}

function valuesOf(rose: Rose): readonly number[] {
  return rose.arms
    .filter((arm) => arm.id in TURNS)
    .flatMap((arm) =>
      [arm.rested, arm.tired]
        .flatMap((one) => (one ? [one.value, one.low, one.high] : []))
        // Half of what is asked, so that its ring stands clear of the middle.
        .concat(arm.usable ?? [], arm.asked === undefined ? [] : arm.asked / 2, arm.plenty ?? arm.asked ?? []),
    );
}

function nameBox(frame: Frame, turn: number): Box {
  const { wide, high } = frame;
  const [x, y] = [wide / 2, high / 2];
  const [side, tall] = [68, 70];
  const corner = 104;
  const aside = frame === SMALL_ROSE ? corner : 0;
  switch (turn) {
    case 0:
      return { x: x - 60 + aside, y: 4, wide: 120, high: tall };
    case 180:
      return { x: x - 60 - aside, y: high - tall - 4, wide: 120, high: tall };
    case 90:
      return { x: wide - side, y: y - tall / 2, wide: side, high: tall };
    case 270:
      return { x: 0, y: y - tall / 2, wide: side, high: tall };
    default:
      return { x: turn < 180 ? wide - corner : 0, y: turn < 90 || turn > 270 ? 52 : high - tall - 52, wide: corner, high: tall };
  }
}

/** What an arm covers, as small boxes along it. */
function covered(on: Ground, turn: number, end: number): readonly Box[] {
  const step = 12;
  return Array.from({ length: Math.max(1, Math.ceil((end - on.frame.hub) / step)) }, (_, i) => {
    const radius = Math.min(end, on.frame.hub + (i + 0.5) * step);
    const { x, y } = point(on, turn, radius);
    const half = on.half(radius);
    const angle = (turn * Math.PI) / 180;
    return boxAround(
      x,
      y,
      2 * half * Math.abs(Math.cos(angle)) + step * Math.abs(Math.sin(angle)),
      2 * half * Math.abs(Math.sin(angle)) + step * Math.abs(Math.cos(angle)),
    );
  });
}

interface Drawn {
  readonly arm: RoseArm;
  readonly turn: number;
  readonly shapes: ArmParts['shapes'];
  readonly end: number;
  readonly name: ArmParts['name'];
}

function shapesOf(on: Ground, arm: RoseArm, wanted: number): ArmParts['shapes'] {
  const one = (of: 'rested' | 'tired' | 'assumed', value: number | undefined, count = wanted) => {
    if (value === undefined) return [];
    const end = radiusOf(on, value);
    return [{ of, end, path: armPath(end, on), few: count < wanted }];
  };
  const measured = [...one('rested', arm.rested?.value, arm.rested?.count), ...one('tired', arm.tired?.value, arm.tired?.count)];
  measured.sort((a, b) => b.end - a.end);
  return arm.assumed ? [...measured, ...one('assumed', arm.usable)] : measured;
}

function nameOf({ frame }: Ground, arm: RoseArm, turn: number): ArmParts['name'] {
  const box = nameBox(frame, turn);
  const figure = arm.rested ? numberWords(arm.rested.value) : '';
  const figureSize = Math.min(25, Math.floor(box.wide / Math.max(1, wordsWide(figure, 1))));
  return { ...box, figure, figureSize, wrong: standing(arm) };
}

/** The tired figure inside the end of the tired arm, or beyond one that is too short for it. */
function pillOf(on: Ground, { arm, turn }: Drawn, taken: readonly Box[]): Label | null {
  if (!arm.tired) return null;
  const size = on.pill;
  const text = numberWords(arm.tired.value);
  const [wide, high] = [wordsWide(text, size) + 14, size + 12];
  const angle = (turn * Math.PI) / 180;
  const reach = (wide / 2) * Math.abs(Math.sin(angle)) + (high / 2) * Math.abs(Math.cos(angle));
  const end = radiusOf(on, arm.tired.value);
  const inner = end - reach - 8;
  const steps = Array.from({ length: 40 }, (_, i) => i * 6);
  const near = on.frame.hub + 4 + reach;
  const radii = [...(inner >= near ? [inner] : []), ...steps.map((step) => end + reach + 8 + step), ...steps.map((step) => near + step)];
  const boxes = radii
    .map((radius) => ({ ...boxAround(point(on, turn, radius).x, point(on, turn, radius).y, wide, high), text, size }))
    .filter((box) => inside(box, on.frame.wide, on.frame.high));
  return firstFree(boxes, taken) ?? null;
}

function whiskerOf(on: Ground, arm: RoseArm): ArmParts['whisker'] {
  const list = [arm.tired, arm.rested].filter((one) => one !== undefined && one.count > 1);
  const one = list.find((series) => series?.apart) ?? list[0];
  if (!one) return null;
  const [from, to] = [radiusOf(on, one.low), radiusOf(on, one.high)];
  const far = one.apart === true;
  return { from, to, far, aside: far ? on.half(to) + 16 : 0 };
}

/** The two far figures in words, on whichever side of the arm there is room. */
function apartOf(
  on: Ground,
  drawn: Drawn,
  whisker: NonNullable<ArmParts['whisker']>,
  taken: readonly Box[],
): { readonly label: Label | null; readonly side: number } {
  const one = [drawn.arm.tired, drawn.arm.rested].find((series) => series?.apart);
  const text = one ? `${numberWords(one.low)} to ${numberWords(one.high)}` : '';
  const size = 17;
  const [wide, high] = [wordsWide(text, size), size + 6];
  const angle = (drawn.turn * Math.PI) / 180;
  const clear = whisker.aside + 14 + (wide / 2) * Math.abs(Math.cos(angle)) + (high / 2) * Math.abs(Math.sin(angle));
  const middle = (whisker.from + whisker.to) / 2;
  const candidates = [0, 12, -12, 24, -24, 36, 48, 60, 80, 100].flatMap((along) =>
    [1, -1].flatMap((side) =>
      [0, 12, 24, 40].map((more) => {
        const { x, y } = point(on, drawn.turn, middle + along, side * (clear + more));
        return { ...boxAround(x, y, wide, high), text, size, side };
      }),
    ),
  );
  const found = firstFree(
    candidates.filter((box) => inside(box, on.frame.wide, on.frame.high)),
    taken,
  );
  if (!found) return { label: null, side: 1 };
  const { side, ...label } = found;
  return { label, side };
}

function ring(on: Ground, at: number, text: string, size: number, turns: readonly number[], taken: Box[]): Ring {
  const [wide, high] = [wordsWide(text, size) + 12, size + 10];
  const boxes = turns.map((turn) => ({ ...boxAround(point(on, turn, at).x, point(on, turn, at).y, wide, high), text, size }));
  const label = firstFree(boxes, taken) ?? null;
  if (label) taken.push(label);
  return { at, label };
}

/** The one figure that all needed directions share, if they do. */
function shared(rose: Rose, of: (arm: RoseArm) => number | undefined): number | null {
  const figures = new Set(rose.arms.filter((arm) => arm.id in TURNS).flatMap((arm) => of(arm) ?? []));
  const [only] = figures;
  return figures.size === 1 && only !== undefined ? only : null;
}

/** Everything that is drawn of a rose, from the engine's figures: where, how long and how large, and no colour. */
export function roseParts(rose: Rose, look: RoseLook): RoseParts {
  const arms = rose.arms.filter((arm) => arm.id in TURNS);
  const scale = logScale(rose.unit, valuesOf(rose));
  const frame = frameOf(rose, look);
  const on = groundOf(frame, scale, arms.length);
  const narrowed = rose.arms.some((arm) => arm.needed);
  const asked = shared(rose, (arm) => arm.asked);
  const plenty = shared(rose, (arm) => arm.plenty);
  const drawn = arms.map((arm): Drawn => {
    const turn = TURNS[arm.id] ?? 0;
    const shapes = shapesOf(on, arm, look.wanted);
    const whisker = whiskerOf(on, arm);
    return { arm, turn, shapes, end: Math.max(frame.hub, whisker?.to ?? 0, ...shapes.map((one) => one.end)), name: nameOf(on, arm, turn) };
  });
  const taken: Box[] = [boxAround(frame.wide / 2, frame.high / 2, 2 * frame.hub, 2 * frame.hub), ...drawn.map((one) => one.name)];
  const pills = drawn.map((one) => {
    const pill = pillOf(on, one, taken);
    if (pill) taken.push(pill);
    return pill;
  });
  taken.push(...drawn.flatMap((one) => covered(on, one.turn, one.end)));
  const whiskers = drawn.map((one) => {
    const whisker = whiskerOf(on, one.arm);
    if (!whisker?.far) return { whisker, apart: null };
    const { label, side } = apartOf(on, one, whisker, taken);
    if (label) taken.push(label);
    return { whisker: { ...whisker, aside: side * whisker.aside }, apart: label };
  });
  const between = arms.length > 4 ? [22.5, 67.5, 112.5, 157.5, 202.5, 247.5, 292.5, 337.5] : [45, 135, 225, 315, 35, 55, 125, 145];
  const words = {
    asked: asked === null ? '' : `asks ${numberWords(asked)}`,
    plenty: plenty === null ? '' : `3 times: ${numberWords(plenty)}`,
  };
  const askedRing = asked === null ? null : ring(on, radiusOf(on, asked), words.asked, 16, between, taken);
  const plentyRing = plenty === null ? null : ring(on, radiusOf(on, plenty), words.plenty, 16, between, taken);
  const grid = scale.decades.map((value) => ({
    value,
    ...ring(on, radiusOf(on, value), numberWords(value), 14, [...between].reverse(), taken),
  }));
  const press = rose.arms.find((arm) => arm.id === 'press');
  const pressed = press?.tired ?? press?.rested;
  return {
    frame,
    scale,
    grid,
    asked: askedRing,
    plenty: plentyRing,
    arms: drawn.map((one, i) => ({
      id: one.arm.id,
      words: look.words(one.arm.id),
      turn: one.turn,
      chosen: one.arm.id === look.chosen,
      pale: narrowed && one.arm.needed !== true,
      shapes: one.shapes,
      bar: across(on, one.arm.short ? one.arm.usable : undefined),
      asked: across(on, asked === null ? one.arm.asked : undefined),
      whisker: whiskers[i]?.whisker ?? null,
      apart: whiskers[i]?.apart ?? null,
      pill: pills[i] ?? null,
      name: one.name,
    })),
    hub: press ? { id: 'press', figure: pressed ? numberWords(pressed.value) : '', chosen: look.chosen === 'press' } : null,
  };
}

function across(on: Ground, value: number | undefined): ArmParts['bar'] {
  if (value === undefined) return null;
  const at = radiusOf(on, value);
  return { at, half: on.half(at) + 8 };
}
