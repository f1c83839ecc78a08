import assert from 'node:assert/strict';
import { test } from 'node:test';
import { BadInputError } from '../errors';
import { createEngine, EngineEnded } from './engine';
import type { EngineAsk, EngineReply } from './engine-program';

/** Workers that answer when the test says so. */
function setUp() {
  const asked: EngineAsk[] = [];
  const workers: { readonly tell: Map<string, (event: unknown) => void>; ended: boolean }[] = [];
  const timers = new Set<{ readonly run: () => void; readonly ms: number }>();
  const start = (): Worker => {
    const one = { tell: new Map<string, (event: unknown) => void>(), ended: false };
    workers.push(one);
    const worker = {
      addEventListener: (kind: string, run: (event: unknown) => void) => one.tell.set(kind, run),
      postMessage: (ask: EngineAsk) => asked.push(ask),
      terminate: () => {
        one.ended = true;
      },
    };
    return worker as unknown as Worker;
  };
  const engine = createEngine(start, {
    setTimer: (run, ms) => {
      const timer = { run, ms };
      timers.add(timer);
      return timer;
    },
    clearTimer: (timer) => timers.delete(timer as { run: () => void; ms: number }),
  });
  const tell = (data: EngineReply, worker = workers.length - 1) => workers[worker]?.tell.get('message')?.({ data });
  const reply = (index: number, text: string) => {
    tell({ id: asked[index]?.id ?? 0, text });
  };
  /** Promises that are done have told. */
  const turn = () =>
    new Promise((resolve) => {
      setImmediate(resolve);
    });
  return { engine, asked, workers, timers, tell, reply, turn };
}

test('an answer goes to whoever asked, in whatever order they come', async () => {
  const { engine, asked, reply } = setUp();
  const both = [engine.ask('thresholds', {}), engine.ask('fold-control', { entries: [] })];
  reply(1, 'null');
  reply(0, '{"thresholds":[]}');
  assert.deepEqual(await Promise.all(both), [{ thresholds: [] }, null]);
  assert.deepEqual(
    asked.map((one) => [one.op, one.question]),
    [
      ['thresholds', '{}'],
      ['fold-control', '{"entries":[]}'],
    ],
  );
});

test('what the program has against a question is an error with its field', async () => {
  const { engine, reply } = setUp();
  const asked = engine.ask('advice', { problem: 'x' });
  reply(0, '{"error":{"code":"wrong-type","path":"problem","want":"one of 20","got":"\\"x\\""}}');
  await assert.rejects(asked, (error) => {
    assert.ok(error instanceof BadInputError);
    assert.deepEqual([error.code, error.path, error.message], ['wrong-type', 'problem', 'Problem: expected one of 20, got "x".']);
    return true;
  });
});

test('the bytes of an answer can be had as the program wrote them', async () => {
  const { engine, reply } = setUp();
  const asked = engine.askText('canonical', { visit: 'v' });
  reply(0, '{"level":"x","n":1.0}');
  assert.equal(await asked, '{"level":"x","n":1.0}');
});

test('a program that ends says so to all who wait, and the next question starts another with its checklists', async () => {
  const { engine, asked, workers, tell, reply, turn } = setUp();
  const load = engine.ask('load-checklist', { hash: 'h', definition: { id: 'standard' } });
  reply(0, 'null');
  await load;
  const lost = [engine.ask('thresholds', {}), engine.ask('advice', { problem: 'x' })];
  tell({ ended: 'it crashed' });
  for (const one of await Promise.allSettled(lost)) {
    assert.ok(one.status === 'rejected' && one.reason instanceof EngineEnded);
    assert.match(one.reason.message, /it crashed/);
  }
  assert.equal(workers[0]?.ended, true);
  const next = engine.ask('thresholds', {});
  await turn();
  assert.deepEqual(
    asked.slice(3).map((one) => [one.op, one.question]),
    [
      ['load-checklist', '{"hash":"h","definition":{"id":"standard"}}'],
      ['thresholds', '{}'],
    ],
  );
  tell({ id: asked[4]?.id ?? 0, text: 'null' }, 0);
  reply(3, 'null');
  reply(4, '{"thresholds":[]}');
  assert.deepEqual(await next, { thresholds: [] }, 'what a former program says late is not an answer');
});

test('a worker that does not start is an end as well', async () => {
  const { engine, workers } = setUp();
  const lost = engine.ask('thresholds', {});
  await Promise.resolve();
  workers[0]?.tell.get('error')?.({ message: 'no such file' });
  await assert.rejects(lost, EngineEnded);
});

test('a worker that falls silent after its first answer is ended, and the next question starts another', async () => {
  const { engine, workers, timers, reply, turn } = setUp();
  const first = engine.ask('thresholds', {});
  await turn();
  assert.equal(timers.size, 0, 'the first download may take long');
  reply(0, '{"thresholds":[]}');
  await first;
  assert.equal(timers.size, 0, 'nobody waits');
  const both = [engine.ask('fold-control', { entries: [] }), engine.ask('thresholds', {})];
  await turn();
  const [begun] = timers;
  reply(1, 'null');
  assert.deepEqual([timers.size, begun !== undefined && timers.has(begun)], [1, false], 'each answer begins the time anew');
  const [timer] = timers;
  assert.equal(timer?.ms, 30_000);
  timer.run();
  assert.equal(await both[0], null);
  await assert.rejects(async () => both[1], EngineEnded);
  assert.deepEqual([workers[0]?.ended, timers.size], [true, 0]);
  const next = engine.ask('thresholds', {});
  await turn();
  assert.equal(timers.size, 0, 'another one is fetched first');
  reply(3, '{"thresholds":[]}');
  assert.deepEqual([await next, workers.length], [{ thresholds: [] }, 2]);
});

test('an answer that cannot be read is an end as well', async () => {
  const { engine, workers, turn } = setUp();
  const lost = engine.ask('thresholds', {});
  await turn();
  workers[0]?.tell.get('messageerror')?.({});
  await assert.rejects(lost, EngineEnded);
});
