import { signal } from '@preact/signals';
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { elapsedOf, longestSilence } from './clock';
import { createCounters, isFreshCount, perMinute, readCountDraft, start, stop, tap, tapsOf, untap } from './counter';

/** A box that outlives the page. */
function box() {
  const rows = new Map<string, string>();
  return {
    load: (key: string): unknown => (rows.has(key) ? JSON.parse(rows.get(key) ?? '') : null),
    keep: (key: string, value: unknown) => void rows.set(key, JSON.stringify(value)),
    drop: (key: string) => void rows.delete(key),
    failing: signal<ReadonlySet<string>>(new Set()),
    rows,
  };
}

test('each touch is kept, and the last one is taken back whichever button it was', () => {
  const kept = box();
  const counters = createCounters(kept, () => 1000);
  for (const side of ['left', 'right', 'left']) counters.change('v1/per-sides', (count) => tap(count, side));
  // The page dies; another one takes the count up.
  const again = createCounters(kept, () => 2000);
  assert.equal(tapsOf(again.of('v1/per-sides').value, 'left'), 2);
  again.change('v1/per-sides', untap);
  assert.deepEqual(again.of('v1/per-sides').value.taps, ['left', 'right']);
  again.change('v1/per-sides', untap);
  again.change('v1/per-sides', untap);
  assert.equal(kept.rows.size, 0, 'an empty count leaves nothing behind');
});

test('a clock goes on through a short gap and stands where it was last seen after a long one', () => {
  for (const [gap, want, running] of [
    [longestSilence, 5_000 + longestSilence, true],
    [longestSilence + 1, 5_000, false],
  ] as const) {
    const kept = box();
    let now = 10_000;
    const counters = createCounters(kept, () => now);
    counters.change('v1/clear', (count) => start(count, now));
    assert.equal(counters.running(), true);
    now += 5_000;
    counters.change('v1/clear', (count) => count);
    now += gap;
    const again = createCounters(kept, () => now);
    assert.equal(elapsedOf(again.of('v1/clear').value.clock, now), want);
    assert.equal(again.running(), running);
  }
});

test('a stopped clock runs no more, and what is damaged is fresh', () => {
  let now = 0;
  const counters = createCounters(box(), () => now);
  counters.change('a', (count) => start(count, now));
  now = 6_200;
  counters.change('a', (count) => stop(count, now));
  assert.equal(counters.running(), false);
  assert.equal(elapsedOf(counters.of('a').value.clock, 99_999), 6_200);
  for (const damaged of [null, 7, { taps: 'left' }, { clock: { since: 'x' }, taps: [1] }])
    assert.equal(isFreshCount(readCountDraft(damaged)), true, JSON.stringify(damaged));
});

test('what is counted comes to so many a minute, to a tenth', () => {
  assert.equal(perMinute(12, 60_000), 12);
  assert.equal(perMinute(7, 45_000), 9.3);
  assert.equal(perMinute(3, 0), 0, 'no time has passed');
});
