import assert from 'node:assert/strict';
import { afterEach, test } from 'node:test';
import { createFormDrafts } from '../draft/form-drafts';
import { clockRuns, elapsedOf, longestSilence, pauseClocks } from './clock';
import { createCounters, freshCount, isFreshCount, perMinute, readCountDraft, start, stop, tap, tapsOf, untap } from './counter';

type Counters = ReturnType<typeof createCounters>;
/** Those of a test: their clocks would run in the next. */
const open = new Set<Counters>();
afterEach(() => {
  for (const one of open) one.forget();
});

/** A tablet whose rows outlive the page. */
function tablet(at: number) {
  const rows = new Map<string, string>();
  const box = {
    keys: () => [...rows.keys()],
    load: (key: string): unknown => JSON.parse(rows.get(key) ?? 'null'),
    change: (key: string, how: (row: unknown) => unknown) => {
      const next = how(JSON.parse(rows.get(key) ?? 'null'));
      if (next === undefined) rows.delete(key);
      else rows.set(key, JSON.stringify(next));
    },
  };
  /** `set` is by how much somebody set the tablet's clock; each page has a steady clock of its own. */
  const clock = { now: at, set: 0, pages: 0 };
  return {
    rows,
    clock,
    page: (path = '/visits/v1/part/per') => {
      const drafts = createFormDrafts(box, { set: () => 0, clear: () => undefined });
      clock.pages += 1;
      const page = clock.pages;
      const moment = () => ({ now: clock.now, wall: clock.now + clock.set, page });
      const counters = createCounters({ drafts, moment, path: () => path });
      open.add(counters);
      return { drafts, counters };
    },
  };
}

const sides = { about: 'v1', name: 'count per-sides', title: 'Sides: the count' };
const lane = { about: 'v1', name: 'time lane', title: 'Lane: the clock' };

test('each touch is kept with the forms, and the last one is taken back whichever button it was', () => {
  const { rows, page } = tablet(1_000);
  const { counters } = page();
  for (const side of ['left', 'right', 'left']) counters.change(sides, (count) => tap(count, side));
  assert.deepEqual([...rows.keys()], ['form:v1'], 'written at once, under a key that names the visit alone');
  // The page dies; another one takes the count up.
  const { counters: again, drafts } = page();
  assert.equal(tapsOf(again.of(sides).count, 'left'), 2);
  assert.deepEqual(
    drafts.begun().map(({ title, path }) => [title, path]),
    [['Sides: the count', '/visits/v1/part/per']],
  );
  again.change(sides, untap);
  assert.deepEqual(again.of(sides).count.taps, ['left', 'right']);
  again.change(sides, untap);
  again.change(sides, untap);
  assert.equal(rows.size, 0, 'an empty count leaves nothing behind');
});

test('a clock goes on through a short gap and stands where it was last seen after a long one', () => {
  for (const [gap, want, running] of [
    [longestSilence, 5_000 + longestSilence, true],
    [longestSilence + 1, 5_000, false],
  ] as const) {
    const { clock, page } = tablet(10_000);
    const { counters, drafts } = page();
    counters.change(lane, (count) => start(count, clock.now));
    assert.equal(counters.running(), true);
    clock.now += 5_000;
    counters.watch('v1');
    drafts.flush();
    clock.now += gap;
    const again = page('/visits/v1/notes').counters;
    again.watch('v1');
    assert.equal(again.running(), running);
    const { count, unwatched } = again.of(lane);
    assert.equal(elapsedOf(count.clock, clock.now), want);
    assert.equal(unwatched, running ? 0 : gap);
    clock.now += 1_000;
    again.goOn(lane);
    assert.equal(elapsedOf(again.of(lane).count.clock, clock.now), 6_000 + gap, 'it ran on all the while, if somebody says so');
    assert.equal(again.of(lane).unwatched, 0);
  }
});

test('what is watched from another screen stays on the address of its own', () => {
  const { clock, page } = tablet(0);
  const { counters, drafts } = page();
  counters.change(lane, (count) => start(count, clock.now));
  const again = page('/visits/v1/notes');
  again.counters.watch('v1');
  assert.deepEqual(
    [...drafts.begun(), ...again.drafts.begun()].map(({ path }) => path),
    ['/visits/v1/part/per', '/visits/v1/part/per'],
  );
});

test('setting the clock of the tablet moves no clock that runs, also over a lock and a break', () => {
  for (const set of [14_400_000, -14_400_000]) {
    const { clock, page } = tablet(20_000_000);
    const { counters, drafts } = page();
    counters.change(lane, (count) => start(count, clock.now));
    clock.now += 1_500;
    clock.set = set;
    counters.watch('v1');
    drafts.flush();
    // Locked and opened again.
    counters.forget();
    counters.watch('v1');
    assert.equal(counters.of(lane).unwatched, 0);
    assert.equal(counters.running(), true);
    pauseClocks();
    assert.equal(elapsedOf(counters.of(lane).count.clock, clock.now), 1_500);
  }
});

test('a page whose steady clock is another one takes a clock up all the same', () => {
  const { clock, page } = tablet(0);
  const { counters, drafts } = page();
  counters.change(lane, (count) => start(count, clock.now));
  clock.now += 4_000;
  counters.watch('v1');
  drafts.flush();
  // A second later by the clock of the tablet.
  clock.now += 3_600_000;
  clock.set = 1_000 - 3_600_000;
  const again = page().counters;
  again.watch('v1');
  assert.equal(again.of(lane).unwatched, 0);
  assert.equal(elapsedOf(again.of(lane).count.clock, clock.now), 5_000);
});

test('what a clock ran to while its page was gone is not made up', () => {
  const { clock, page } = tablet(20_000_000);
  const { counters } = page();
  counters.change(lane, (count) => start(count, clock.now));
  clock.now += 1_500;
  clock.set = -60_000;
  const again = page().counters;
  const { count, unwatched } = again.of(lane);
  assert.deepEqual([elapsedOf(count.clock, clock.now), unwatched, again.running()], [0, null, false]);
  again.watch('v1');
  assert.equal(again.of(lane).unwatched, null, 'it is asked until somebody decides');
});

test('a clock keeps the tablet open until it is stopped, has ended by itself, or a break began', () => {
  const { clock, page } = tablet(0);
  const { counters } = page();
  const runs = () => [counters.running(), clockRuns()];
  counters.change(lane, (count) => start(count, clock.now));
  assert.deepEqual(runs(), [true, true]);
  clock.now = 6_200;
  counters.change(lane, (count) => stop(count, clock.now));
  assert.deepEqual(runs(), [false, false]);
  assert.equal(elapsedOf(counters.of(lane).count.clock, 99_999), 6_200);

  counters.change(lane, () => start({ ...freshCount, ends: 20_000 }, clock.now));
  clock.now += 19_999;
  assert.deepEqual(runs(), [true, true]);
  clock.now += 1;
  assert.deepEqual(runs(), [false, false], 'nobody watches it, and it is over');

  counters.change(lane, () => start(freshCount, clock.now));
  clock.now += 300;
  pauseClocks();
  assert.deepEqual(runs(), [false, false]);
  assert.equal(counters.of(lane).count.clock.carried, 300, 'and what it showed is kept');
});

test('what is damaged is fresh', () => {
  for (const damaged of [null, 7, { taps: 'left' }, { clock: { since: 'x' }, taps: [1] }])
    assert.equal(isFreshCount(readCountDraft(damaged)), true, JSON.stringify(damaged));
});

test('what is counted comes to so many a minute, to a tenth', () => {
  assert.equal(perMinute(12, 60_000), 12);
  assert.equal(perMinute(7, 45_000), 9.3);
  assert.equal(perMinute(3, 0), 0, 'no time has passed');
});

test('a count ends at 999 touches', () => {
  const almost = { ...freshCount, taps: Array.from({ length: 998 }, () => 'left') };
  assert.equal(tapsOf(tap(almost, 'left'), 'left'), 999);
  assert.equal(tapsOf(tap(tap(almost, 'left'), 'right'), 'right'), 0);
});
