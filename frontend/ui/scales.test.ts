import assert from 'node:assert/strict';
import { test } from 'node:test';
import { apart, evenScale, logScale, spread } from './scales';

test('a log scale takes whole ticks around its values and spaces tenfolds evenly', () => {
  const scale = logScale(10, 1800, { from: 300, to: 0 });
  assert.deepEqual(scale.ticks, [10, 20, 50, 100, 200, 500, 1000, 2000]);
  assert.equal(scale.at(10), 300);
  assert.equal(scale.at(2000), 0);
  assert.ok(Math.abs(scale.at(10) - scale.at(100) - (scale.at(100) - scale.at(1000))) < 1e-9);
  assert.equal(scale.at(3), 300, 'below the scale is on its edge');
});

test('ticks below one stay exact', () => {
  assert.deepEqual(logScale(0.3, 4, { from: 0, to: 1 }).ticks, [0.2, 0.5, 1, 2, 5]);
});

test('an even scale begins at nothing and ends on a whole tick', () => {
  const scale = evenScale(28, { from: 0, to: 100 });
  assert.deepEqual(scale.ticks, [0, 10, 20, 30]);
  assert.equal(scale.at(15), 50);
  assert.deepEqual(evenScale(0.5, { from: 0, to: 1 }).ticks, [0, 0.1, 0.2, 0.3, 0.4, 0.5]);
});

test('labels move apart only where they would lie on each other', () => {
  const labels = [
    { x: 0, y: 10, width: 50 },
    { x: 20, y: 12, width: 50 },
    { x: 200, y: 12, width: 50 },
    { x: 10, y: 20, width: 50 },
  ];
  assert.deepEqual(apart(labels, 16), [10, 26, 12, 42]);
});

test('labels in one column spread around the middle of their group', () => {
  assert.deepEqual(spread([100, 100, 300], 20), [90, 110, 300]);
  assert.deepEqual(spread([300, 104, 96, 100], 20), [300, 120, 80, 100]);
  assert.deepEqual(spread([], 20), []);
});
