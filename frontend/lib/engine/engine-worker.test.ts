import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { EngineAsk, EngineReply } from './engine-program';

interface Wasi {
  readonly proc_exit: (code: number) => void;
}

/** Stands for the engine's program: it answers with the question, and one question ends it. */
function brokenProgram(imports: WebAssembly.Imports): WebAssembly.Instance {
  const memory = new WebAssembly.Memory({ initial: 1 });
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
        const [op, text] = new TextDecoder().decode(new Uint8Array(memory.buffer, 0, asked)).split('\n');
        if (text === 'a mistake') (imports['wasi_snapshot_preview1'] as unknown as Wasi).proc_exit(2);
        size = new TextEncoder().encodeInto(
          op === 'load-catalogue' ? 'null' : `${op}: ${text}`,
          new Uint8Array(memory.buffer, 100),
        ).written;
        return size;
      },
      answer: () => 100,
    },
  };
}

test('the worker carries questions to its program, and says when that has ended', async () => {
  let listen: (event: { data: EngineAsk }) => void = () => undefined;
  let heard: (reply: EngineReply) => void = () => undefined;
  Object.assign(globalThis, {
    addEventListener: (_: string, listener: typeof listen) => {
      listen = listener;
    },
    postMessage: (reply: EngineReply) => {
      heard(reply);
    },
    fetch: () => Promise.resolve(new Response('level.pause: Pause')),
  });
  WebAssembly.instantiateStreaming = (_, imports) =>
    Promise.resolve({ instance: brokenProgram(imports ?? {}), module: {} as WebAssembly.Module });
  await import('./engine-worker');

  const ask = (id: number, question: string): Promise<EngineReply> =>
    new Promise((resolve) => {
      heard = resolve;
      listen({ data: { id, op: 'advice', question } });
    });
  assert.deepEqual(await ask(1, 'one'), { id: 1, text: 'advice: one' });
  assert.deepEqual(await ask(2, 'two'), { id: 2, text: 'advice: two' });
  assert.deepEqual(await ask(3, 'a mistake'), { ended: 'The engine stopped at this question.' });
});
