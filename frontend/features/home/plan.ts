/**
 * The plan of a passage, read from the engine's text: one statement a line,
 * TAB between fields, millimetres with y upwards.
 */
import { visitText } from '../../lib/engine/visit-text';
import type { Visit } from '../../lib/model.gen';

export interface Point {
  readonly x: number;
  readonly y: number;
}

/** The chair at one place of its way. */
export interface Pose {
  readonly at: Point;
  /** Degrees against the clock from x. */
  readonly heading: number;
  readonly outline: readonly Point[];
}

export interface Plan {
  readonly walls: readonly (readonly [Point, Point])[];
  readonly poses: readonly Pose[];
  /** The tightest point with the millimetres left there, below 0 where they are missing. */
  readonly tight: (Point & { readonly left: number }) | null;
  /** What the drawn line comes to, in a sentence, or empty. */
  readonly say: string;
}

export interface Frame {
  readonly low: Point;
  readonly high: Point;
}

function numbersOf(fields: readonly string[]): readonly number[] {
  return fields.map((field) => (field === '' ? NaN : Number(field)));
}

function pairs(numbers: readonly number[]): readonly Point[] {
  const points: Point[] = [];
  for (let i = 0; i + 1 < numbers.length; i += 2) points.push({ x: numbers[i] ?? 0, y: numbers[i + 1] ?? 0 });
  return points;
}

/** Reads a plan. Lines of kinds that are not known, and damaged ones, are left out. */
export function parsePlan(text: string): Plan {
  const walls: (readonly [Point, Point])[] = [];
  const poses: Pose[] = [];
  let tight: Plan['tight'] = null;
  let say = '';
  for (const row of text.split('\n')) {
    const [kind = '', ...fields] = row.split('\t');
    if (kind === 'say') say = fields.join(' ');
    const n = numbersOf(fields);
    if (n.length === 0 || n.some(Number.isNaN)) continue;
    const [first, second] = pairs(n);
    if (first === undefined) continue;
    if (kind === 'wall' && second) walls.push([first, second]);
    else if (kind === 'pose') poses.push({ at: first, heading: n[2] ?? 0, outline: [] });
    else if (kind === 'outline') {
      const last = poses.pop();
      if (last) poses.push({ ...last, outline: pairs(n) });
    } else if (kind === 'tight') tight = { ...first, left: n[2] ?? 0 };
  }
  return { walls, poses, tight, say };
}

/** The part worth drawing: the chair on its way, with some wall about it. */
export function frameOf(plan: Plan, margin = 350): Frame | null {
  const points = [...plan.poses.flatMap((pose) => pose.outline), ...(plan.tight ? [plan.tight] : [])];
  if (points.length === 0) return null;
  const xs = points.map((point) => point.x);
  const ys = points.map((point) => point.y);
  return {
    low: { x: Math.min(...xs) - margin, y: Math.min(...ys) - margin },
    high: { x: Math.max(...xs) + margin, y: Math.max(...ys) + margin },
  };
}

/** Which pose is the tightest: the one whose outline comes nearest to the tightest point. */
export function tightPose(plan: Plan): number {
  const { tight } = plan;
  if (tight === null) return -1;
  const away = plan.poses.map((pose) =>
    Math.min(...pose.outline.map((at, i) => toEdge(tight, at, pose.outline[(i + 1) % pose.outline.length] ?? at))),
  );
  return away.indexOf(Math.min(...away));
}

/** The distance of a point from an edge. */
function toEdge(p: Point, a: Point, b: Point): number {
  const along = { x: b.x - a.x, y: b.y - a.y };
  const square = along.x ** 2 + along.y ** 2;
  const part = square === 0 ? 0 : Math.max(0, Math.min(1, ((p.x - a.x) * along.x + (p.y - a.y) * along.y) / square));
  return Math.hypot(p.x - a.x - part * along.x, p.y - a.y - part * along.y);
}

/** Walls within the frame, cut off at its edge, without the ends of thin ones; for walls along x or y. */
export function wallsWithin(plan: Plan, frame: Frame): readonly (readonly [Point, Point])[] {
  const cut = (p: Point): Point => ({
    x: Math.max(frame.low.x, Math.min(frame.high.x, p.x)),
    y: Math.max(frame.low.y, Math.min(frame.high.y, p.y)),
  });
  return plan.walls.flatMap(([a, b]) => {
    const [from, to] = [cut(a), cut(b)];
    const outside = (a.x === b.x && from.x !== a.x) || (a.y === b.y && from.y !== a.y) || Math.hypot(from.x - to.x, from.y - to.y) < 2;
    return outside ? [] : [[from, to] as const];
  });
}

/** The chair's and the place's line of the visit text, as the engine asks for them; null until both are there. */
export function planQuestion(visit: Visit, place: string): { readonly chair: string; readonly place: string } | null {
  const lines = visitText(visit).split('\n');
  const chair = lines.find((line) => line.startsWith('chair\t'));
  const found = lines.find((line) => line.startsWith(`place\t${place}\t`));
  return chair === undefined || found === undefined ? null : { chair, place: found };
}

/** What is left at the tightest point, in words. */
export function leftWords(left: number | null): string {
  if (left === null) return '';
  const mm = Math.abs(Math.round(left));
  return left < 0 ? `${mm} mm missing` : `${mm} mm left`;
}
