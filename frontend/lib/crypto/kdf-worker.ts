/** Derives a key from a password off the page's thread, then forgets it. */
import { argon2id, type WasmLoader, type KdfAsk, type KdfReply } from './argon2';

declare const ARGON2_FAST: string;
declare const ARGON2_PLAIN: string;

const scope = globalThis as unknown as DedicatedWorkerGlobalScope;
const from =
  (url: string): WasmLoader =>
  (imports) =>
    WebAssembly.instantiateStreaming(fetch(url), imports);

scope.addEventListener('message', (event: MessageEvent<KdfAsk>) => {
  argon2id(event.data, from(ARGON2_FAST), from(ARGON2_PLAIN)).then(
    (bytes) => {
      scope.postMessage({ ok: true, bytes } satisfies KdfReply);
    },
    (error: unknown) => {
      scope.postMessage({ ok: false, error: String(error) } satisfies KdfReply);
    },
  );
});
