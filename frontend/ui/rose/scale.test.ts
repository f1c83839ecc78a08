import assert from 'node:assert/strict';
import { test } from 'node:test';
import { logScale } from './scale';

test('a scale holds what is usual in the unit, and goes on for what is not', () => {
  assert.deepEqual([logScale('gf', []).low, logScale('gf', []).high], [10, 1000]);
  assert.deepEqual([logScale('gf', [8, 2000]).low, logScale('gf', [8, 2000]).high], [5, 2000]);
  assert.deepEqual([logScale('gf', [1.2, 10_000]).low, logScale('gf', [1.2, 10_000]).high], [1, 10_000]);
  assert.deepEqual([logScale('N', [0.08]).low, logScale('N', [0.08]).high], [0.05, 10]);
});

test('its ends are 0 and 1, its middle is the geometric one, and nothing falls out of it', () => {
  const scale = logScale('gf', [20, 640]);
  assert.deepEqual([scale.at(10), scale.at(1000), scale.at(100)], [0, 1, 0.5]);
  assert.deepEqual([scale.at(0), scale.at(5), scale.at(50_000)], [0, 0, 1]);
});

test('it is ruled at powers of ten', () => {
  assert.deepEqual(logScale('gf', [8, 2000]).decades, [10, 100, 1000]);
  assert.deepEqual(logScale('N', []).decades, [0.1, 1, 10]);
});
