/**
 * Argon2id (RFC 9106) with one lane and 32 bytes out. The program that does the
 * work comes in two kinds: the first for processors that reckon several numbers
 * at once, the second for all others. Both give the same bytes.
 */
import setup from 'argon2id/lib/setup.js';

export type WasmLoader = Parameters<typeof setup>[0];

/** Derives a key as asked; rejects when the browser cannot get the memory. */
export async function argon2id(ask: KdfAsk, fast: WasmLoader, plain: WasmLoader): Promise<Uint8Array<ArrayBuffer>> {
  const compute = await setup(fast, plain);
  const password = new TextEncoder().encode(ask.password);
  return new Uint8Array(compute({ password, salt: ask.salt, memorySize: ask.memory, passes: ask.passes, parallelism: 1, tagLength: 32 }));
}

/** What the page asks of the key worker, and what it answers. Memory is in KiB. */
export interface KdfAsk {
  readonly password: string;
  readonly salt: Uint8Array;
  readonly memory: number;
  readonly passes: number;
}

export type KdfReply = { readonly ok: true; readonly bytes: Uint8Array<ArrayBuffer> } | { readonly ok: false; readonly error: string };
