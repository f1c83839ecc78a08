import assert from 'node:assert/strict';
import { test } from 'node:test';
import { backoff, createLoop, type Outcome, type Turn } from './loop';

function setUp(results: Outcome[], visible = () => true) {
  const timers: { run: () => void; ms: number }[] = [];
  const turns: Turn[] = [];
  const loop = createLoop({
    run: (turn) => {
      turns.push(turn);
      return Promise.resolve(results.shift() ?? 'done');
    },
    random: () => 1,
    visible,
    setTimer: (run, ms) => {
      const timer = { run, ms };
      timers.push(timer);
      return timer;
    },
    clearTimer: (timer) => {
      const at = timers.indexOf(timer as { run: () => void; ms: number });
      if (at >= 0) timers.splice(at, 1);
    },
  });
  const settled = () =>
    new Promise((resolve) => {
      setImmediate(resolve);
    });
  const fire = async () => {
    timers.shift()?.run();
    await settled();
  };
  return { loop, timers, fire, settled, turns, runs: () => turns.length };
}

test('several writes in a row are sent together a second later', async () => {
  const { loop, timers, fire, runs } = setUp([]);
  loop.poke();
  loop.poke();
  assert.deepEqual(
    timers.map((timer) => timer.ms),
    [1_000],
  );
  await fire();
  assert.equal(runs(), 1);
  assert.deepEqual(
    timers.map((timer) => timer.ms),
    [60_000],
    'then once a minute',
  );
});

test('failures wait longer and longer, up to five minutes, and a write does not shorten that', async () => {
  const { loop, timers, fire } = setUp(['failed', 'failed', 'failed']);
  loop.poke();
  await fire();
  assert.equal(timers[0]?.ms, 2_000);
  loop.poke();
  assert.equal(timers[0]?.ms, 2_000);
  await fire();
  assert.equal(timers[0]?.ms, 4_000);
  assert.equal(
    backoff(30, () => 1),
    300_000,
  );
  assert.equal(
    backoff(30, () => 0),
    0,
    'full jitter',
  );
});

test('a network that comes back, and the button, do not wait', async () => {
  const { loop, timers, fire, runs } = setUp(['failed', 'done']);
  loop.poke();
  await fire();
  loop.wake();
  assert.equal(timers[0]?.ms, 0);
  await loop.now();
  assert.equal(runs(), 2);
});

test('what was written while another tab exchanges is tried again soon, and a button waits its turn', async () => {
  const { loop, timers, fire, turns } = setUp(['busy', 'busy', 'done', 'busy']);
  const waits = () => timers.map((timer) => timer.ms);
  loop.poke();
  await fire();
  assert.deepEqual(waits(), [1_000]);
  await fire();
  assert.deepEqual(waits(), [1_000]);
  await fire();
  assert.deepEqual(waits(), [60_000]);
  await fire();
  assert.deepEqual(waits(), [60_000], 'nobody wrote anything: the other tab does it');
  assert.deepEqual(turns, ['pass', 'pass', 'pass', 'pass']);
  await loop.now();
  assert.equal(turns.at(-1), 'wait');
});

test('another tab that exchanges is no failure, and ends none', async () => {
  const { loop, timers, fire } = setUp(['failed', 'busy', 'failed']);
  loop.poke();
  await fire();
  await fire();
  assert.equal(timers[0]?.ms, 2_000);
  await fire();
  assert.equal(timers[0]?.ms, 4_000);
});

test('nothing runs after the tablet is locked', async () => {
  const { loop, timers, fire, runs } = setUp([]);
  loop.poke();
  loop.stop();
  await fire();
  await loop.now();
  assert.equal(runs(), 0);
  assert.equal(timers.length, 0);
});

test('a page that nobody sees asks nothing by itself, and still sends what waits', async () => {
  let seen = false;
  const { loop, timers, fire, runs } = setUp(['done', 'failed', 'done'], () => seen);
  loop.poke();
  await fire();
  assert.equal(runs(), 1, 'what was written');
  await fire();
  assert.deepEqual([runs(), timers.map((timer) => timer.ms)], [1, [60_000]], 'nothing is new: it looks again in a minute');
  loop.poke();
  await fire();
  assert.equal(timers[0]?.ms, 2_000);
  await fire();
  assert.equal(runs(), 3, 'what failed is tried again');
  seen = true;
  await fire();
  assert.equal(runs(), 4, 'the page is seen again');
});
