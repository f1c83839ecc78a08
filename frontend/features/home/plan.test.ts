import assert from 'node:assert/strict';
import { test } from 'node:test';
import { frameOf, leftWords, parsePlan, tightPose, wallsWithin } from './plan';

const text = [
  'wall\t-20000\t0\t400\t0',
  'wall\t400\t0\t400\t20000',
  'wall\t9000\t0\t9000\t500',
  'pose\t0\t500\t90',
  'outline\t-300\t-100\t300\t-100\t300\t900\t-300\t900',
  'pose\t0\t1500\t45.5',
  'outline\t-100\t1000\t380\t1200\t380\t2000\t-300\t1800',
  'tight\t380\t1500\t20',
  'say\tOne turn fits with 20 mm on each side.',
  '',
].join('\n');

test('a plan is read line by line', () => {
  const plan = parsePlan(text);
  assert.equal(plan.walls.length, 3);
  assert.deepEqual(plan.walls[0], [
    { x: -20000, y: 0 },
    { x: 400, y: 0 },
  ]);
  assert.deepEqual(
    plan.poses.map((pose) => [pose.at, pose.heading, pose.outline.length]),
    [
      [{ x: 0, y: 500 }, 90, 4],
      [{ x: 0, y: 1500 }, 45.5, 4],
    ],
  );
  assert.deepEqual(plan.tight, { x: 380, y: 1500, left: 20 });
  assert.equal(plan.say, 'One turn fits with 20 mm on each side.');
});

test('lines that are not known, and damaged ones, are left out', () => {
  assert.deepEqual(parsePlan('window\t1\t2\nwall\t1\tx\t2\t3\noutline\t1\t2\t3\t4\nwall\t1\t2\n'), {
    walls: [],
    poses: [],
    tight: null,
    say: '',
  });
});

test('the frame holds the chair and not the far end of the walls', () => {
  const plan = parsePlan(text);
  const frame = frameOf(plan, 100);
  assert.deepEqual(frame, { low: { x: -400, y: -200 }, high: { x: 480, y: 2100 } });
  assert.ok(frame);
  assert.deepEqual(wallsWithin(plan, frame), [
    [
      { x: -400, y: 0 },
      { x: 400, y: 0 },
    ],
    [
      { x: 400, y: 0 },
      { x: 400, y: 2100 },
    ],
  ]);
  assert.equal(frameOf(parsePlan('')), null);
});

test('the tightest pose is the one whose outline comes nearest to the mark', () => {
  assert.equal(tightPose(parsePlan(text)), 1);
  assert.equal(tightPose(parsePlan('pose\t0\t0\t0\n')), -1);
});

test('what is left, or missing, is said in millimetres', () => {
  assert.deepEqual([leftWords(35.4), leftWords(-12), leftWords(0), leftWords(null)], ['35 mm left', '12 mm missing', '0 mm left', '']);
});
