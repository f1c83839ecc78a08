/** Derives a key from a password off the page's thread, then forgets it. */
import { argon2id } from 'hash-wasm';
import type { KdfAsk, KdfReply } from './kdf-protocol';

const scope = globalThis as unknown as DedicatedWorkerGlobalScope;

scope.addEventListener('message', (event: MessageEvent<KdfAsk>) => {
  const { password, salt, memory, passes } = event.data;
  argon2id({ password, salt, memorySize: memory, iterations: passes, parallelism: 1, hashLength: 32, outputType: 'binary' }).then(
    (bytes) => { scope.postMessage({ ok: true, bytes: new Uint8Array(bytes) } satisfies KdfReply); },
    (error: unknown) => { scope.postMessage({ ok: false, error: String(error) } satisfies KdfReply); },
  );
});
