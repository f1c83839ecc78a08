import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { ChairMeasured, PlaceMeasured } from '../../lib/model.gen';
import { sideOf } from './side-drawing';

const chair: ChairMeasured = { length_mm: 1100, width_mm: 650, drive: 'mid', ahead_mm: 0, clearance_mm: 30, step_mm: 60 };
const place = (kind: string, figures: Partial<PlaceMeasured>): PlaceMeasured => ({ place: 'p', kind, name: 'back door', ...figures });

test('what stands at an arrow of a drawing from the side is as long as its figure', () => {
  const sides = [
    sideOf(place('ramp', { rise_mm: 120, run_mm: 1600, landing_mm: 1500 }), chair),
    sideOf(place('ramp', { rise_mm: 300, run_mm: 900 }), chair),
    sideOf(place('threshold', { height_mm: 25 }), chair),
  ];
  assert.deepEqual(
    sides.map((side) => side?.spans.map((span) => [span.key, Math.hypot(span.to[0] - span.from[0], span.to[1] - span.from[1])])),
    [
      [
        ['rise_mm', 120],
        ['run_mm', 1600],
        ['landing_mm', 1500],
      ],
      [
        ['rise_mm', 300],
        ['run_mm', 900],
      ],
      [['height_mm', 25]],
    ],
  );
  for (const side of sides)
    for (const span of side?.spans ?? []) assert.equal(Math.hypot(span.to[0] - span.from[0], span.to[1] - span.from[1]), span.mm);
});

test('the person stands on the slope and leans with it; a step is beside what the manual allows', () => {
  const ramp = sideOf(place('ramp', { rise_mm: 100, run_mm: 100 }), chair);
  assert.deepEqual([ramp?.person.x, ramp?.person.y, Math.round(ramp?.person.lean ?? 0)], [50, -50, 45]);
  assert.equal(sideOf(place('threshold', { height_mm: 25 }), chair)?.limit, 60);
  assert.equal(sideOf(place('threshold', { height_mm: 25 }), { ...chair, step_mm: 0 })?.limit, undefined);
});

test('without its figures a place is not drawn from the side, and a load never', () => {
  assert.equal(sideOf(place('ramp', { rise_mm: 100 }), chair), null);
  assert.equal(sideOf(place('ramp', { run_mm: 100 }), chair), null);
  assert.equal(sideOf(place('threshold', {}), chair), null);
  assert.equal(sideOf(place('load', { limit_kg: 250 }), chair), null);
});
