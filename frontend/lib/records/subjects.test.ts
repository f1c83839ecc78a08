import assert from 'node:assert/strict';
import { test } from 'node:test';
import { EngineEnded } from '../engine/engine';
import { StoreError } from '../errors';
import type { Folds } from './folds';
import type { ReadEvents } from './snapshots';
import { createSubjects } from './subjects';

const nothing: ReadEvents = { events: [], logs: { log: '' }, mark: undefined, touches: 0 };

/** Subjects on a disk that can be lost, with a program whose answers can be held back. */
function setUp() {
  const disk = { lost: false, reads: 0 };
  const timers: (() => void)[] = [];
  const pauses: number[] = [];
  const program = { ends: false, asked: 0 };
  const shown: string[] = [];
  let held: Promise<void> = Promise.resolve();
  const folds: Pick<Folds, 'fold' | 'forget' | 'close'> = {
    fold: async () => {
      program.asked += 1;
      if (program.ends) throw new EngineEnded('It did not start.');
      await held;
      return null;
    },
    forget: () => undefined,
    close: () => undefined,
  };
  const subjects = createSubjects<string>({
    read: async () => {
      disk.reads += 1;
      await Promise.resolve();
      if (disk.lost) throw new StoreError('lost', 'The browser closed the records.');
      return nothing;
    },
    folds: folds as Folds,
    take: async (subject) => {
      shown.push(subject);
      return Promise.resolve(subject);
    },
    failed: () => undefined,
    setTimer: (run, ms) => {
      timers.push(run);
      pauses.push(ms);
    },
  });
  return {
    disk,
    subjects,
    shown,
    timers,
    pauses,
    program,
    holdProgram: () => {
      let release = (): void => undefined;
      held = new Promise((resolve) => {
        release = resolve;
      });
      return release;
    },
  };
}

const many = Array.from({ length: 30 }, (_, n) => `s${n}`);

test('records that are gone are read a few times, until the time comes to try again', async () => {
  const { disk, subjects, shown, timers, holdProgram } = setUp();
  // One was read before, and is folded only when the records are gone.
  const release = holdProgram();
  const early = subjects.current('early');
  await new Promise(setImmediate);
  [disk.lost, disk.reads] = [true, 0];
  subjects.refold(many);
  await new Promise(setImmediate);
  release();
  assert.equal(await early, 'early');
  await subjects.settled();
  const tried = disk.reads;
  assert.ok(tried >= 1 && tried <= 4, `${tried} times read`);
  for (const subject of [...many, 'another']) assert.equal(await subjects.current(subject), undefined);
  subjects.refold(many);
  await subjects.settled();
  assert.equal(disk.reads, tried, 'whoever asks meanwhile does not begin again');
  assert.equal(await subjects.current('early'), 'early', 'what is known is known');

  disk.lost = false;
  assert.equal(timers.length, 1);
  timers[0]?.();
  await new Promise(setImmediate);
  await subjects.settled();
  assert.deepEqual([...shown].sort(), [...many, 'another', 'early'].sort());
  assert.equal(await subjects.current('another'), 'another');
});

test('it is settled when the last of many that were to be folded is', async () => {
  const { subjects, shown, holdProgram } = setUp();
  const release = holdProgram();
  subjects.refold(many);
  let settled = false;
  const waiting = subjects.settled().then(() => {
    settled = true;
  });
  await new Promise(setImmediate);
  assert.equal(settled, false);
  release();
  await waiting;
  assert.deepEqual([...shown].sort(), [...many].sort());
});

test('a program that does not start is started ever more rarely, until it does', async () => {
  const { subjects, shown, timers, pauses, program } = setUp();
  program.ends = true;
  subjects.refold(many);
  const asked: number[] = [];
  for (let round = 0; round < 6; round++) {
    await new Promise(setImmediate);
    await subjects.settled();
    asked.push(program.asked);
    program.asked = 0;
    timers.at(-1)?.();
  }
  assert.deepEqual(pauses.slice(0, 6), [5_000, 10_000, 20_000, 40_000, 60_000, 60_000]);
  assert.ok(Number(asked[0]) <= 8, `${asked[0]} at first`);
  for (const one of asked.slice(1)) assert.ok(one >= 1 && one <= 4, `${one} in a later round`);
  program.ends = false;
  timers.at(-1)?.();
  await new Promise(setImmediate);
  await subjects.settled();
  assert.deepEqual([...new Set(shown)].sort(), [...many].sort());
});
