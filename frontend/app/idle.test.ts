import assert from 'node:assert/strict';
import { test } from 'node:test';
import { createIdle } from './idle';

const IDLE_MS = 15 * 60_000;

test('fault 22: the idle lock comes in time whatever the clock does meanwhile', () => {
  const at = { wall: 0, steady: 0 };
  const idle = createIdle({ wall: () => at.wall, steady: () => at.steady }, () => IDLE_MS);
  at.wall = -86_400_000;
  at.steady = IDLE_MS;
  assert.equal(idle.tooLong(), false);
  at.steady += 1;
  assert.equal(idle.tooLong(), true, 'a clock that was set back a day does not keep the tablet open for a day');

  idle.touched();
  assert.equal(idle.tooLong(), false);
  at.wall += IDLE_MS + 1;
  assert.equal(idle.tooLong(), true, 'a sleep, during which the steady clock may stand still, counts');
});
