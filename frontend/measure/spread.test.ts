import assert from 'node:assert/strict';
import { test } from 'node:test';
import { judgeRepeats, nextDirection, oddOnes, spreadPercent } from './spread';

test('spread is the range over the mean in percent', () => {
  assert.equal(spreadPercent([90, 100, 110]), 20);
  assert.equal(spreadPercent([100]), null);
  assert.equal(spreadPercent([0, 0, 0]), null);
});

test('three close readings are enough', () => {
  assert.deepEqual(judgeRepeats([95, 100, 105], 'gf'), { mean: 100, spread: 10, missing: 0, oneMore: false });
});

test('a wide spread asks for one more, a weak force is read more coarsely', () => {
  assert.equal(judgeRepeats([80, 100, 120], 'gf').oneMore, true);
  assert.equal(judgeRepeats([35, 40, 45], 'gf').oneMore, false);
  assert.equal(judgeRepeats([30, 40, 50], 'gf').oneMore, true);
});

test('the weak limit is the same force in every unit', () => {
  // 0.40 N is about 41 gf; a spread of 25 % is steady enough there.
  assert.equal(judgeRepeats([0.35, 0.4, 0.45], 'N').oneMore, false);
  // 4.0 N is about 408 gf; the same spread is not.
  assert.equal(judgeRepeats([3.5, 4, 4.5], 'N').oneMore, true);
});

test('below three readings the missing ones are asked for first', () => {
  const repeats = judgeRepeats([10, 100], 'gf');
  assert.equal(repeats.missing, 1);
  assert.equal(repeats.oneMore, false);
});

test('after eight readings nobody is asked for more', () => {
  assert.equal(judgeRepeats([10, 100, 10, 100, 10, 100, 10, 100], 'gf').oneMore, false);
});

test('a reading over twice or under half of the middle one is named', () => {
  assert.deepEqual(oddOnes([50, 52, 420]), [2]);
  assert.deepEqual(oddOnes([50, 20, 52]), [1]);
  assert.deepEqual(oddOnes([50, 420]), []);
  assert.deepEqual(oddOnes([50, 100, 75]), []);
});

test('the next circle comes by itself: this direction until it has enough, then the next that is short', () => {
  const order = ['forward', 'reverse', 'left', 'right'];
  assert.equal(nextDirection(order, { forward: 1 }, 'forward', 3), 'forward');
  assert.equal(nextDirection(order, { forward: 3 }, 'forward', 3), 'reverse');
  assert.equal(nextDirection(order, { forward: 3, reverse: 3, left: 3, right: 2 }, 'left', 3), 'right');
  assert.equal(nextDirection(order, { forward: 3, reverse: 3, left: 3, right: 3 }, 'right', 3), 'right');
});
