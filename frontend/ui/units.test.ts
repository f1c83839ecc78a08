import assert from 'node:assert/strict';
import { test } from 'node:test';
import { forceUnit, unitDecimals } from './units';

test('an unknown unit is shown as gram-force', () => {
  assert.equal(forceUnit('kg'), 'gf');
  assert.equal(forceUnit('ozf'), 'ozf');
});

test('a coarse unit is typed with more digits', () => {
  assert.deepEqual([unitDecimals('gf'), unitDecimals('N'), unitDecimals('lbf')], [1, 3, 4]);
});
