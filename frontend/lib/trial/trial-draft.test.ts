import assert from 'node:assert/strict';
import { test } from 'node:test';
import { signal, type Signal } from '@preact/signals';
import { startClock } from './clock';
import { afterSaving, alreadySaved, addToTally, freshTrial, isBegun, nextTrial, readTrial, toRun } from './trial-draft';
import { createTrialStore, type DraftBox } from './trial-store';

/** A box that outlives the page, as a plain map. */
function createBox(): DraftBox & { readonly kept: ReadonlyMap<string, unknown>; readonly failing: Signal<ReadonlySet<string>> } {
  const kept = new Map<string, unknown>();
  return {
    kept,
    load: (key) => kept.get(key) ?? null,
    keep: (key, value) => void kept.set(key, structuredClone(value)),
    drop: (key) => void kept.delete(key),
    failing: signal(new Set()),
  };
}

const at0 = { now: 0, wall: 0, page: 1 };

test('every touch is kept: a killed page finds clock, counts and route again', () => {
  const box = createBox();
  let now = 1_000_000;
  const before = createTrialStore(box, () => ({ now, wall: now, page: 1 }));
  before.change('v1', (draft) => ({
    ...draft,
    clock: startClock(draft.clock, now),
    metres: '40',
    place: 'rough',
    route: 'to Mo’s kitchen',
  }));
  before.change('v1', (draft) => addToTally(draft, 'things', 1));
  before.change('v1', (draft) => addToTally(draft, 'things', 1));
  now += 12_000;
  const after = createTrialStore(box, () => ({ now, wall: now, page: 1 }));
  const { draft, unwatched } = after.of('v1').value;
  assert.equal(unwatched, 0);
  assert.equal(draft.counts.things, 2);
  assert.equal(draft.place, 'rough');
  assert.equal(draft.route, 'to Mo’s kitchen');
  assert.equal(toRun(draft, now, 40).seconds, 12);
});

test('a tablet that slept, or whose clock was set on, while a run was driven asks whether that time was driven', () => {
  let at = at0;
  const store = createTrialStore(createBox(), () => at);
  store.change('v1', (draft) => ({ ...draft, clock: startClock(draft.clock, 0) }));
  at = { now: 5_000, wall: 5_000 + 14_400_000, page: 1 };
  store.watch('v1');
  at = { now: 6_000, wall: 6_000 + 14_400_000, page: 1 };
  store.change('v1', (draft) => addToTally(draft, 'things', 1));
  const { draft, unwatched } = store.of('v1').value;
  assert.equal(unwatched, 14_400_000);
  assert.equal(toRun(draft, 6_000, 40).seconds, 6, 'the clock of the run is not moved by it');
  store.change('v1', () => freshTrial);
  assert.equal(store.of('v1').value.unwatched, 0, 'the next run is not asked about');
});

test('a finished run leaves nothing behind', () => {
  const box = createBox();
  const store = createTrialStore(box, () => at0);
  store.change('v1', (draft) => addToTally(draft, 'things', 1));
  assert.equal(box.kept.size, 1);
  store.change('v1', () => freshTrial);
  assert.equal(box.kept.size, 0);
});

test('a locked tablet forgets what was counted until its rows are open again', () => {
  const box = createBox();
  const store = createTrialStore(box, () => at0);
  store.change('v1', (draft) => addToTally(draft, 'things', 1));
  const locked = new Map(box.kept);
  box.drop('v1');
  store.forget();
  assert.equal(store.of('v1').value.draft.counts.things, 0);
  for (const [key, value] of locked) box.keep(key, value);
  store.forget();
  assert.equal(store.of('v1').value.draft.counts.things, 1);
});

test('visits keep their runs apart', () => {
  const store = createTrialStore(createBox(), () => at0);
  store.change('v1', (draft) => addToTally(draft, 'people', 1));
  assert.equal(store.of('v2').value.draft.counts.people, 0);
});

test('a browser that keeps nothing is told, and counting goes on', () => {
  const box = createBox();
  const store = createTrialStore(box, () => at0);
  store.change('v1', (draft) => addToTally(draft, 'prompts', 1));
  assert.equal(store.kept('v1'), true);
  box.failing.value = new Set(['v1']);
  assert.equal(store.kept('v1'), false);
  assert.equal(store.of('v1').value.draft.counts.prompts, 1);
});

test('a tally never falls below 0', () => {
  assert.equal(addToTally(addToTally(freshTrial, 'rescues', -1), 'rescues', 1).counts.rescues, 1);
});

test('a saved run has the shape of the record, without an empty route', () => {
  const draft = { ...freshTrial, clock: { carried: 61_234, since: null, seen: 0 }, route: '  ' };
  assert.deepEqual(toRun(draft, 0, 25), {
    place: 'indoors',
    state: 'rested',
    seconds: 61.2,
    metres: 25,
    things: 0,
    people: 0,
    prompts: 0,
    rescues: 0,
    unmeant: 0,
    presses: 0,
  });
});

test('the next run keeps place, state and route and starts at 0', () => {
  const next = nextTrial({ ...addToTally(freshTrial, 'things', 1), place: 'outdoors', state: 'tired', route: 'garden', metres: '9' });
  assert.equal(next.place, 'outdoors');
  assert.equal(next.counts.things, 0);
  assert.equal(isBegun(next), false, 'a route and a place are no run');
});

test('a touch that comes while the run is being written belongs to the next run', () => {
  const draft = { ...addToTally(freshTrial, 'things', 1), clock: { carried: 60_000, since: null, seen: 0 }, metres: '20' };
  const saved = toRun(draft, 0, 20);
  const next = afterSaving(addToTally(draft, 'people', 1), saved);
  assert.equal(next.counts.things, 0);
  assert.equal(next.counts.people, 1);
  assert.equal(next.clock.carried, 0);
});

test('a draft of a run that was saved before the crash is known again', () => {
  const draft = { ...addToTally(freshTrial, 'things', 1), clock: { carried: 61_234, since: null, seen: 0 }, metres: '20,5' };
  const saved = toRun(draft, 0, 20.5);
  assert.equal(alreadySaved(draft, [saved]), true);
  assert.equal(alreadySaved(addToTally(draft, 'things', 1), [saved]), false);
  assert.equal(alreadySaved(freshTrial, [saved]), false);
});

const damaged: readonly unknown[] = [null, 7, 'x', [], { counts: { things: -4, people: 'two' }, clock: { since: 'now' }, place: 'moon' }];
for (const value of damaged) {
  test(`a damaged draft ${JSON.stringify(value)} becomes a fresh one`, () => {
    assert.deepEqual(readTrial(value), freshTrial);
  });
}

test('of a draft that is damaged in part what is sound stays', () => {
  const value = {
    clock: { carried: 5_000, since: 'x', seen: -1 },
    counts: { things: 3.7, people: -1 },
    metres: '40',
    place: 'moon',
    state: 'tired',
    route: 7,
  };
  const draft = {
    ...freshTrial,
    clock: { carried: 5_000, since: null, seen: 0 },
    counts: { ...freshTrial.counts, things: 3 },
    metres: '40',
    state: 'tired',
  };
  assert.deepEqual(readTrial(value), draft);
});
