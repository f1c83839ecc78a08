import assert from 'node:assert/strict';
import { test } from 'node:test';
import { readStandings, seriesText } from './repeats';
import { nextDirection } from './slots';

test('the engine is asked a line a series, without exponents', () => {
  assert.equal(
    seriesText([
      { what: 'force', unit: 'N', values: [0.4, 0.0000001] },
      { what: 'travel', unit: 'mm', values: [] },
    ]),
    'force\tN\t0.4\t0.0000001\ntravel\tmm',
  );
});

test('what the engine says of each series is read in order', () => {
  const [far, none] = readStandings('3\t174\t212.6\t0\t1\t0,2\tMean of 3.\n0\t-\t-\t3\t0\t-\tNot measured yet.\n');
  assert.deepEqual(far, { count: 3, value: 174, spread: 212.6, missing: 0, more: true, odd: [0, 2], sentence: 'Mean of 3.' });
  assert.deepEqual(none, { count: 0, value: null, spread: null, missing: 3, more: false, odd: [], sentence: 'Not measured yet.' });
});

test('the next circle comes by itself: this direction until it has enough, then the next that is short', () => {
  const order = ['forward', 'reverse', 'left', 'right'];
  assert.equal(nextDirection(order, { forward: 1 }, 'forward', 3), 'forward');
  assert.equal(nextDirection(order, { forward: 3 }, 'forward', 3), 'reverse');
  assert.equal(nextDirection(order, { forward: 3, reverse: 3, left: 3, right: 2 }, 'left', 3), 'right');
  assert.equal(nextDirection(order, { forward: 3, reverse: 3, left: 3, right: 3 }, 'right', 3), 'right');
});
