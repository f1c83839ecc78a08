import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { EngineAsk, EngineReply } from './engine-program';

interface Wasi {
  readonly proc_exit: (code: number) => void;
}

/** Stands for the engine's program: it answers with its catalogue and the question's text, and one question ends it. */
function brokenProgram(imports: WebAssembly.Imports): WebAssembly.Instance {
  const start = ++starts;
  const memory = new WebAssembly.Memory({ initial: 1 });
  let catalogue = 'no words';
  let asked = 0;
  let size = 0;
  return {
    exports: {
      memory,
      _initialize: () => undefined,
      room: (n: number) => {
        asked = n;
        return 0;
      },
      ask: () => {
        const [word, text] = new TextDecoder().decode(new Uint8Array(memory.buffer, 0, asked)).split('\n');
        if (word === 'catalogue') {
          catalogue = text ?? '';
          size = 0;
          return size;
        }
        if (text === 'a mistake') (imports['wasi_snapshot_preview1'] as unknown as Wasi).proc_exit(2);
        size = new TextEncoder().encodeInto(`engine ${start}, ${catalogue}: ${text}`, new Uint8Array(memory.buffer, 100)).written;
        return size;
      },
      answer: () => 100,
    },
  };
}

let starts = 0;
let catalogueFound = false;

test('a question that ends the engine fails, and the next one gets another engine', async () => {
  let listen: (event: { data: EngineAsk }) => void = () => undefined;
  let heard: (reply: EngineReply) => void = () => undefined;
  Object.assign(globalThis, {
    addEventListener: (_: string, listener: typeof listen) => {
      listen = listener;
    },
    postMessage: (reply: EngineReply) => {
      heard(reply);
    },
    fetch: () => Promise.resolve(catalogueFound ? new Response('words') : new Response(null, { status: 404 })),
  });
  WebAssembly.instantiateStreaming = (_, imports) =>
    Promise.resolve({ instance: brokenProgram(imports ?? {}), module: {} as WebAssembly.Module });
  await import('./engine-worker');

  const ask = (id: number, text: string): Promise<EngineReply> =>
    new Promise((resolve) => {
      heard = resolve;
      listen({ data: { id, op: 'run', text } });
    });
  assert.deepEqual(await ask(0, 'none'), { id: 0, ok: false, error: 'The catalogue could not be read: status 404.' });
  catalogueFound = true;
  starts = 0;
  assert.deepEqual(await ask(1, 'one'), { id: 1, ok: true, text: 'engine 1, words: one' });
  assert.deepEqual(await ask(2, 'two'), { id: 2, ok: true, text: 'engine 1, words: two' });
  assert.deepEqual(await ask(3, 'a mistake'), { id: 3, ok: false, error: 'The engine stopped at this question.' });
  assert.deepEqual(await ask(4, 'four'), { id: 4, ok: true, text: 'engine 2, words: four' });
});
