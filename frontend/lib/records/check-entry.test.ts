import assert from 'node:assert/strict';
import { mock, test } from 'node:test';
import type { Engine } from '../engine/engine';
import { StoreError } from '../errors';
import { checkEntry } from './check-entry';

/** A program that answers so, and says what it was asked. */
function programThat(answer: () => Promise<unknown>) {
  const asked: unknown[] = [];
  const engine = {
    ask: (op: string, question: unknown) => {
      asked.push([op, question]);
      return answer();
    },
  };
  return { asked, engine: engine as unknown as Pick<Engine, 'ask'> };
}

test('a form is told which field the server would not take, and what it would', async () => {
  const bad = { code: 'out-of-range', path: 'body.hours_driving', want: '0 to 24', got: '25' };
  const { asked, engine } = programThat(() => Promise.resolve(bad));
  await assert.rejects(
    checkEntry(engine, 'needs-noted', { hours_driving: 25 }),
    (error) => error instanceof StoreError && error.code === 'refused' && error.message === 'Hours driving: expected 0 to 24, got 25.',
  );
  assert.deepEqual(asked, [['check-body', { kind: 'needs-noted', body: { hours_driving: 25 } }]]);
});

test('of an amendment what it changes is checked', async () => {
  const { asked, engine } = programThat(() => Promise.resolve(null));
  await checkEntry(engine, 'amendment-made', { reason: 'mistyped', kind: 'needs-noted', change: { hours_driving: 2 } });
  await checkEntry(engine, 'amendment-made', { reason: 'mistyped', kind: 'answer-given', change: {} });
  assert.deepEqual(asked, [['check-body', { kind: 'needs-noted', body: { hours_driving: 2 } }]]);
});

test('what is in order passes, and so does what the program ends at', async () => {
  await checkEntry(programThat(() => Promise.resolve(null)).engine, 'needs-noted', {});
  await checkEntry(programThat(() => Promise.reject(new Error('ended'))).engine, 'needs-noted', {});
});

test('a touch, a reading and a note do not ask', async () => {
  const { asked, engine } = programThat(() => new Promise(() => undefined));
  for (const kind of ['answer-given', 'reading-taken', 'run-timed', 'visit-noted', 'visit-signed'] as const)
    await checkEntry(engine, kind, {});
  assert.deepEqual(asked, []);
});

test('a form waits for a program that does not answer no longer than a second', async (t) => {
  t.after(() => {
    mock.timers.reset();
  });
  mock.timers.enable({ apis: ['setTimeout'] });
  let passed = false;
  const waiting = checkEntry(programThat(() => new Promise(() => undefined)).engine, 'needs-noted', {}).then(() => {
    passed = true;
  });
  mock.timers.tick(999);
  await new Promise(setImmediate);
  assert.equal(passed, false);
  mock.timers.tick(1);
  await waiting;
});
