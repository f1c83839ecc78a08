import assert from 'node:assert/strict';
import { test } from 'node:test';
import { saying } from '../../ui/result/sample';
import type { PlanDrawing, Point, Visit } from '../../lib/model.gen';
import { frameOf, leftWords, planQuestion, tightPose, wallsWithin } from './plan';

const at = (x: number, y: number): Point => ({ x, y });

const nothing: PlanDrawing = { message: saying('') };
const plan: PlanDrawing = {
  walls: [
    { from: at(-20000, 0), to: at(400, 0) },
    { from: at(400, 0), to: at(400, 20000) },
    { from: at(9000, 0), to: at(9000, 500) },
  ],
  poses: [
    { at: at(0, 500), heading: 90, outline: [at(-300, -100), at(300, -100), at(300, 900), at(-300, 900)] },
    { at: at(0, 1500), heading: 45.5, outline: [at(-100, 1000), at(380, 1200), at(380, 2000), at(-300, 1800)] },
  ],
  tightest: { at: at(380, 1500), room_mm: 20 },
  message: saying('One turn fits with 20 mm on each side.'),
};

test('the chair and the place are asked about once both are measured', () => {
  const chair = { length_mm: 1150, width_mm: 650, drive: 'mid', ahead_mm: 0, clearance_mm: 50 };
  const places = [
    { place: 'p1', kind: 'door', name: 'Hall', width_mm: 800 },
    { place: 'p2', kind: 'door', name: 'Bath', width_mm: 700 },
  ];
  assert.deepEqual(planQuestion({ chair, places } as unknown as Visit, 'p2'), { chair, place: places[1] });
  assert.equal(planQuestion({ chair, places } as unknown as Visit, 'p3'), null);
  assert.equal(planQuestion({ places } as unknown as Visit, 'p2'), null);
});

test('the frame holds the chair and not the far end of the walls', () => {
  const frame = frameOf(plan, 100);
  assert.deepEqual(frame, { low: { x: -400, y: -200 }, high: { x: 480, y: 2100 } });
  assert.ok(frame);
  assert.deepEqual(wallsWithin(plan, frame), [
    { from: at(-400, 0), to: at(400, 0) },
    { from: at(400, 0), to: at(400, 2100) },
  ]);
  assert.equal(frameOf(nothing), null);
});

test('the tightest pose is the one whose outline comes nearest to the mark', () => {
  assert.equal(tightPose(plan), 1);
  assert.equal(tightPose({ ...nothing, poses: [{ at: at(0, 0), heading: 0, outline: [] }] }), -1);
});

test('what is left, or missing, is said in millimetres', () => {
  assert.deepEqual([leftWords(35.4), leftWords(-12), leftWords(0)], ['35 mm left', '12 mm missing', '0 mm left']);
});
