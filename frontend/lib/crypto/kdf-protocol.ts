/** What the page asks of the key worker, and what it answers. Memory is in KiB. */
export interface KdfAsk {
  readonly password: string;
  readonly salt: Uint8Array;
  readonly memory: number;
  readonly passes: number;
}

export type KdfReply = { readonly ok: true; readonly bytes: Uint8Array<ArrayBuffer> } | { readonly ok: false; readonly error: string };
