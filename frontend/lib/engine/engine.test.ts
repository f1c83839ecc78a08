import assert from 'node:assert/strict';
import { test } from 'node:test';
import { createEngine, readPlausible } from './engine';
import type { EngineAsk } from './engine-program';

/** A worker that answers when the test says so. */
function setUp() {
  const asked: EngineAsk[] = [];
  const listeners = new Map<string, (event: unknown) => void>();
  const worker = {
    addEventListener: (kind: string, run: (event: unknown) => void) => {
      listeners.set(kind, run);
    },
    postMessage: (ask: EngineAsk) => {
      asked.push(ask);
    },
    terminate: () => undefined,
  };
  const engine = createEngine(() => worker as unknown as Worker);
  const reply = (index: number, text: string) => {
    listeners.get('message')?.({ data: { id: asked[index]?.id, ok: true, text } });
  };
  const crash = () => {
    listeners.get('error')?.({ message: 'it crashed' });
  };
  const settled = () =>
    new Promise((resolve) => {
      setImmediate(resolve);
    });
  return { engine, asked, reply, crash, settled };
}

test('of many changes in a row the first and the last are scored', async () => {
  const { engine, asked, reply, settled } = setUp();
  const all = ['one', 'two', 'three'].map((visit) => engine.score('v', 'h', 'rules', visit));
  reply(0, 'first');
  await settled();
  reply(1, 'last');
  assert.deepEqual(await Promise.all(all), ['first', null, 'last']);
  assert.deepEqual(
    asked.map((ask) => (ask.op === 'score' ? ask.visit : '')),
    ['one', 'three'],
  );
});

test('an engine that crashes says so and is started again', async () => {
  const { engine, asked, reply, crash } = setUp();
  const lost = engine.thresholds();
  crash();
  await assert.rejects(lost, /it crashed/);
  const next = engine.thresholds();
  reply(asked.length - 1, 'table');
  assert.equal(await next, 'table');
});

test('a value is ok, asked about or refused', () => {
  assert.deepEqual(readPlausible('ok'), { kind: 'ok', sentence: '' });
  assert.deepEqual(readPlausible('ask\tDid you mean 25?\t25'), { kind: 'ask', sentence: 'Did you mean 25?', suggestion: '25' });
  assert.deepEqual(readPlausible('ask\tIs that right?\t-'), { kind: 'ask', sentence: 'Is that right?' });
  assert.deepEqual(readPlausible('refuse\tToo much.'), { kind: 'refuse', sentence: 'Too much.' });
});
