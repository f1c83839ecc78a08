import assert from 'node:assert/strict';
import { test } from 'node:test';
import { createIdle, longestUntouched } from './idle';

const IDLE_MS = 15 * 60_000;

test('fault 22: the idle lock comes in time whatever the clock does meanwhile', () => {
  const at = { wall: 0, steady: 0 };
  const idle = createIdle({ wall: () => at.wall, steady: () => at.steady }, () => IDLE_MS);
  at.wall = -86_400_000;
  at.steady = IDLE_MS;
  assert.equal(idle.left(), 0);
  at.steady += 1;
  assert.ok(idle.left() < 0, 'a clock that was set back a day does not keep the tablet open for a day');

  idle.touched();
  assert.equal(idle.left(), IDLE_MS);
  at.wall += IDLE_MS + 1;
  assert.ok(idle.left() < 0, 'a sleep, during which the steady clock may stand still, counts');
});

test('a clock that runs keeps the tablet open, but not for a night', () => {
  assert.equal(longestUntouched(2, false), 2 * 60_000);
  assert.equal(longestUntouched(2, true), 60 * 60_000);
  assert.ok(longestUntouched(15, true) < 8 * 3_600_000);
});
