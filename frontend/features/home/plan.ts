/** What is drawn of the plan of a passage: millimetres with y upwards. */
import type { PlanDrawing, PlanQuestion, Point, Visit, Wall } from '../../lib/model.gen';

export interface Frame {
  readonly low: Point;
  readonly high: Point;
}

/** The part worth drawing: the chair on its way, with some wall about it. */
export function frameOf(plan: PlanDrawing, margin = 350): Frame | null {
  const points = [
    ...(plan.poses ?? []).flatMap((pose) => pose.outline),
    ...(plan.tightest ? [plan.tightest.at] : []),
    // A figure stands to the right of its arrow.
    ...(plan.spans ?? []).flatMap(({ from, to }) => [from, to, { x: to.x + margin, y: to.y }]),
  ];
  if (points.length === 0) return null;
  const xs = points.map((point) => point.x);
  const ys = points.map((point) => point.y);
  return {
    low: { x: Math.min(...xs) - margin, y: Math.min(...ys) - margin },
    high: { x: Math.max(...xs) + margin, y: Math.max(...ys) + margin },
  };
}

/** Which pose is the tightest: the one whose outline comes nearest to the tightest point. */
export function tightPose(plan: PlanDrawing): number {
  const { tightest, poses = [] } = plan;
  if (!tightest) return -1;
  const away = poses.map((pose) =>
    Math.min(...pose.outline.map((at, i) => toEdge(tightest.at, at, pose.outline[(i + 1) % pose.outline.length] ?? at))),
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
export function wallsWithin(plan: PlanDrawing, frame: Frame): readonly Wall[] {
  const cut = (p: Point): Point => ({
    x: Math.max(frame.low.x, Math.min(frame.high.x, p.x)),
    y: Math.max(frame.low.y, Math.min(frame.high.y, p.y)),
  });
  return (plan.walls ?? []).flatMap(({ from: a, to: b }) => {
    const [from, to] = [cut(a), cut(b)];
    const outside = (a.x === b.x && from.x !== a.x) || (a.y === b.y && from.y !== a.y) || Math.hypot(from.x - to.x, from.y - to.y) < 2;
    return outside ? [] : [{ from, to }];
  });
}

/** The chair and the place as the engine asks for them; null until both are there. */
export function planQuestion(visit: Visit, place: string): PlanQuestion | null {
  const found = visit.places?.find((one) => one.place === place);
  return visit.chair && found ? { chair: visit.chair, place: found } : null;
}

/** What is left at the tightest point, in words. */
export function leftWords(left: number): string {
  const mm = Math.abs(Math.round(left));
  return left < 0 ? `${mm} mm missing` : `${mm} mm left`;
}
