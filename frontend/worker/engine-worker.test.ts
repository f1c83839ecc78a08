import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { EngineAsk, EngineReply } from './engine-protocol';

/** Stands for Go's loader: run makes an engine, and one question ends it. */
class BrokenGo {
  readonly importObject = {};
  exit: (code: number) => void = () => undefined;

  run(): Promise<void> {
    starts++;
    Object.assign(globalThis, {
      doorsillEngine: {
        run: (line: string) => {
          if (line === 'a mistake') this.exit(2);
          return `engine ${starts}: ${line}`;
        },
      },
    });
    return new Promise(() => undefined);
  }
}

let starts = 0;

test('a question that ends the engine fails, and the next one gets another engine', async () => {
  let listen: (event: { data: EngineAsk }) => void = () => undefined;
  let heard: (reply: EngineReply) => void = () => undefined;
  Object.assign(globalThis, {
    addEventListener: (_: string, listener: typeof listen) => { listen = listener; },
    postMessage: (reply: EngineReply) => { heard(reply); },
    fetch: () => Promise.resolve(new Response()),
  });
  WebAssembly.instantiateStreaming = () => Promise.resolve({ instance: {}, module: {} } as WebAssembly.WebAssemblyInstantiatedSource);
  await import('./engine-worker');
  Object.assign(globalThis, { Go: BrokenGo });

  const ask = (id: number, text: string): Promise<EngineReply> => new Promise((resolve) => {
    heard = resolve;
    listen({ data: { id, op: 'run', text } });
  });
  assert.deepEqual(await ask(1, 'one'), { id: 1, ok: true, text: 'engine 1: one' });
  assert.deepEqual(await ask(2, 'two'), { id: 2, ok: true, text: 'engine 1: two' });
  assert.deepEqual(await ask(3, 'a mistake'), { id: 3, ok: false, error: 'The engine stopped at this question.' });
  assert.deepEqual(await ask(4, 'four'), { id: 4, ok: true, text: 'engine 2: four' });
});
