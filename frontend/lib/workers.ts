/**
 * Starts our own workers. With Trusted Types in force the browser takes a
 * script address only from the policy "doorsill", and the policy gives out only
 * addresses that this build made.
 */
import type { KdfAsk, KdfReply } from './crypto/argon2';
import type { Argon2 } from './crypto/derive';

declare const ENGINE_WORKER: string;
declare const KDF_WORKER: string;

interface ScriptPolicy {
  readonly createScriptURL: (url: string) => unknown;
}

interface PolicyFactory {
  readonly createPolicy: (name: string, rules: { readonly createScriptURL: (url: string) => string }) => ScriptPolicy;
}

let policy: ScriptPolicy | null = null;

function allowed(url: string): string {
  if (url === ENGINE_WORKER || url === KDF_WORKER || url === '/sw.js') return url;
  throw new TypeError(`not a script of this build: ${url}`);
}

/** The address as the browser wants it; throws for any that is not ours. */
export function scriptUrl(url: string): string {
  const factory = (globalThis as { readonly trustedTypes?: PolicyFactory }).trustedTypes;
  if (factory === undefined) return allowed(url);
  policy ??= factory.createPolicy('doorsill', { createScriptURL: allowed });
  // A TrustedScriptURL is accepted wherever the DOM types ask for a string.
  return policy.createScriptURL(url) as string;
}

export function startEngineWorker(): Worker {
  return new Worker(scriptUrl(ENGINE_WORKER), { name: 'engine' });
}

/** Argon2id in a worker of its own that ends with the answer, and its memory with it. */
export const argon2InWorker: Argon2 = (password, params) =>
  new Promise((resolve, reject) => {
    const worker = new Worker(scriptUrl(KDF_WORKER), { name: 'key' });
    worker.addEventListener('message', (event: MessageEvent<KdfReply>) => {
      worker.terminate();
      if (event.data.ok) resolve(event.data.bytes);
      else reject(new Error(event.data.error));
    });
    worker.addEventListener('error', (event) => {
      worker.terminate();
      reject(new Error(event.message));
    });
    worker.postMessage({ password, salt: params.salt, memory: params.memory, passes: params.passes } satisfies KdfAsk);
  });
