/**
 * From a password to the key that wraps the data key. Argon2id in a worker,
 * with 46 MiB and two passes: above the least that the OWASP password storage
 * guidance names (46 MiB, one pass). Where the worker cannot get the memory,
 * PBKDF2-HMAC-SHA-256 with 600,000 rounds, the least of the same guidance.
 * What was used is kept beside the wrapped key.
 */
import { randomBytes, toBytes, type Bytes } from '../bytes';
import { StoreError } from '../errors';
import * as v from '../schema';

const saltField = v.custom<Uint8Array>(
  (value) => value instanceof Uint8Array && value.length >= 16 && value.length <= 64,
  '16 to 64 bytes',
);

/** Bounds keep a tampered row from asking for endless work. */
export const deriveParams = v.union('name', {
  argon2id: v.object({
    name: v.literal('argon2id'),
    memory: v.int(46 * 1024, 512 * 1024),
    passes: v.int(1, 16),
    salt: saltField,
  }),
  'pbkdf2-sha256': v.object({
    name: v.literal('pbkdf2-sha256'),
    rounds: v.int(600_000, 10_000_000),
    salt: saltField,
  }),
});

export type DeriveParams = v.Infer<typeof deriveParams>;
type Argon2Params = Extract<DeriveParams, { name: 'argon2id' }>;

/** Runs Argon2id off the page's thread; rejects when it cannot. */
export type Argon2 = (password: string, params: Argon2Params) => Promise<Bytes>;

export interface Deriver {
  readonly derive: (password: string, params: DeriveParams) => Promise<Bytes>;
  /** Derives with fresh parameters, the best that this browser can do. */
  readonly fresh: (password: string) => Promise<{ readonly bytes: Bytes; readonly params: DeriveParams }>;
}

export function createDeriver(argon2: Argon2): Deriver {
  const derive = async (password: string, params: DeriveParams): Promise<Bytes> => {
    const typed = password.normalize('NFKC');
    if (params.name === 'pbkdf2-sha256') return pbkdf2(typed, params.salt, params.rounds);
    try {
      return await argon2(typed, params);
    } catch (cause) {
      throw new StoreError('unknown', 'This browser has too little memory free to check the password. Close other tabs and try again.', {
        cause,
      });
    }
  };
  const fresh = async (password: string) => {
    const best: DeriveParams = { name: 'argon2id', memory: 46 * 1024, passes: 2, salt: randomBytes(16) };
    try {
      return { bytes: await derive(password, best), params: best };
    } catch {
      const params: DeriveParams = { name: 'pbkdf2-sha256', rounds: 600_000, salt: randomBytes(16) };
      return { bytes: await derive(password, params), params };
    }
  };
  return { derive, fresh };
}

export async function pbkdf2(password: string, salt: Uint8Array, rounds: number): Promise<Bytes> {
  const key = await crypto.subtle.importKey('raw', toBytes(password), 'PBKDF2', false, ['deriveBits']);
  const params = { name: 'PBKDF2', hash: 'SHA-256', salt: new Uint8Array(salt), iterations: rounds };
  return new Uint8Array(await crypto.subtle.deriveBits(params, key, 256));
}
