import assert from 'node:assert/strict';
import { test } from 'node:test';
import { nextDirection } from './slots';

test('the next circle comes by itself: this direction until it has enough, then the next that is short', () => {
  const order = ['forward', 'reverse', 'left', 'right'];
  assert.equal(nextDirection(order, { forward: 1 }, 'forward', 3), 'forward');
  assert.equal(nextDirection(order, { forward: 3 }, 'forward', 3), 'reverse');
  assert.equal(nextDirection(order, { forward: 3, reverse: 3, left: 3, right: 2 }, 'left', 3), 'right');
  assert.equal(nextDirection(order, { forward: 3, reverse: 3, left: 3, right: 3 }, 'right', 3), 'right');
});
