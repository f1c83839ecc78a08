import assert from 'node:assert/strict';
import { test } from 'node:test';
import { addGap, elapsedOf, findClock, freshClock, longestSilence, sleptOf, startClock, stopClock, touchClock, type Moment } from './clock';

test('a clock counts from start to stop and carries on', () => {
  const first = stopClock(startClock(freshClock, 1_000), 61_000);
  assert.equal(elapsedOf(first, 999_000), 60_000);
  assert.equal(elapsedOf(startClock(first, 100_000), 105_000), 65_000);
});

test('starting twice does not start anew', () => {
  const clock = startClock(startClock(freshClock, 1_000), 5_000);
  assert.equal(elapsedOf(clock, 6_000), 5_000);
});

/** A moment of a page whose two clocks agree unless the tablet's own was set since. */
const moment = (now: number, page = 1, set = 0): Moment => ({ now, wall: now + set, page });

test('a reload goes on counting', () => {
  const clock = touchClock(startClock(freshClock, 0), moment(20_000));
  const found = findClock(clock, moment(20_000 + longestSilence, 2));
  assert.equal(found.unwatched, 0);
  assert.equal(elapsedOf(found.clock, 60_000), 60_000);
});

test('a long absence stops the clock where it was last seen and reports the gap', () => {
  const clock = touchClock(startClock(freshClock, 0), moment(90_000));
  const found = findClock(clock, moment(3_690_000, 2));
  assert.equal(found.unwatched, 3_600_000);
  assert.equal(elapsedOf(found.clock, 9_999_999), 90_000);
  assert.equal(elapsedOf(addGap(found.clock, 3_600_000), 9_999_999), 3_690_000);
});

test('setting the tablet’s clock moves no clock of a page that lives, however far', () => {
  const clock = touchClock(startClock(freshClock, 0), moment(2_000));
  for (const set of [14_400_000, -14_400_000]) {
    const found = findClock(clock, moment(3_000, 1, set));
    assert.deepEqual(found, { clock, unwatched: 0 });
    assert.equal(elapsedOf(found.clock, 3_000), 3_000);
  }
});

test('the steady clock of a page that is new says nothing of the one before', () => {
  // That page had slept for an hour before: its steady clock lagged behind.
  const clock = touchClock(startClock(freshClock, 5_000), moment(9_000, 1, 3_600_000));
  const found = findClock(clock, { now: 3_612_000, wall: 3_612_000, page: 2 });
  assert.equal(found.unwatched, 0);
  assert.equal(elapsedOf(found.clock, 3_613_000), 8_000, '4 s before, 3 s meanwhile, 1 s since');
});

test('where the tablet’s clock was set back while the page was gone, nobody can tell how long that was', () => {
  const clock = touchClock(startClock(freshClock, 0), moment(90_000));
  const found = findClock(clock, moment(88_999, 2));
  assert.equal(found.unwatched, null);
  assert.equal(elapsedOf(found.clock, 999_999), 90_000);
  assert.equal(findClock(clock, moment(89_000, 2)).unwatched, 0, 'a clock is put right by less than a second');
  assert.equal(elapsedOf(findClock(clock, moment(89_000, 2)).clock, 89_000), 90_000);
});

test('a clock of a version before this one is found by the tablet’s clock alone', () => {
  const found = findClock({ carried: 0, since: 0, seen: 90_000 }, moment(100_000));
  assert.equal(found.unwatched, 0);
  assert.equal(elapsedOf(found.clock, 100_000), 100_000);
});

test('a tablet that slept while a clock ran is found out by its own clock', () => {
  const clock = touchClock(startClock(freshClock, 0), moment(5_000));
  assert.equal(sleptOf(clock, moment(10_000, 1, 600_000)), 600_000);
  assert.equal(sleptOf(clock, moment(10_000, 1, longestSilence)), 0, 'or was busy');
  assert.equal(sleptOf(clock, moment(10_000, 1, -600_000)), 0, 'its clock was set back');
  assert.equal(sleptOf(clock, moment(10_000, 2, 600_000)), 0, 'another page');
  assert.equal(sleptOf(stopClock(clock, 6_000), moment(10_000, 1, 600_000)), 0, 'it stood');
});

test('a clock that was set back never counts below what it carried', () => {
  const clock = startClock({ carried: 5_000, since: null, seen: 0 }, 100_000);
  assert.equal(elapsedOf(clock, 50_000), 5_000);
});
