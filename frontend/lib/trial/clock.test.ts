import assert from 'node:assert/strict';
import { test } from 'node:test';
import { addGap, elapsedOf, findClock, freshClock, longestSilence, startClock, stopClock, touchClock } from './clock';

test('a clock counts from start to stop and carries on', () => {
  const first = stopClock(startClock(freshClock, 1_000), 61_000);
  assert.equal(elapsedOf(first, 999_000), 60_000);
  assert.equal(elapsedOf(startClock(first, 100_000), 105_000), 65_000);
});

test('starting twice does not start anew', () => {
  const clock = startClock(startClock(freshClock, 1_000), 5_000);
  assert.equal(elapsedOf(clock, 6_000), 5_000);
});

test('a reload goes on counting', () => {
  const clock = touchClock(startClock(freshClock, 0), 20_000);
  const found = findClock(clock, 20_000 + longestSilence);
  assert.equal(found.unwatched, 0);
  assert.equal(elapsedOf(found.clock, 60_000), 60_000);
});

test('a long absence stops the clock where it was last seen and reports the gap', () => {
  const clock = touchClock(startClock(freshClock, 0), 90_000);
  const found = findClock(clock, 3_690_000);
  assert.equal(found.unwatched, 3_600_000);
  assert.equal(elapsedOf(found.clock, 9_999_999), 90_000);
  assert.equal(elapsedOf(addGap(found.clock, found.unwatched), 9_999_999), 3_690_000);
});

test('a clock that was set back never counts below what it carried', () => {
  const clock = startClock({ carried: 5_000, since: null, seen: 0 }, 100_000);
  assert.equal(elapsedOf(clock, 50_000), 5_000);
});
