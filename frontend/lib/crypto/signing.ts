/**
 * A tablet's key pair, and what it signs: the same bytes as internal/signing.
 * Ed25519 where the browser has it, else ECDSA on P-256. At rest the private half
 * lies in a row that only the person's data key opens; in use it cannot be read out.
 */
import { join, toBytes, type Bytes } from '../bytes';
import * as v from '../schema';
import { fromBase64, toBase64 } from './envelope';

const ways = {
  Ed25519: { make: { name: 'Ed25519' }, sign: { name: 'Ed25519' } },
  ES256: { make: { name: 'ECDSA', namedCurve: 'P-256' }, sign: { name: 'ECDSA', hash: 'SHA-256' } },
} as const;

type Algorithm = keyof typeof ways;

/** A key pair as it is kept; `private` is PKCS #8. Both halves are base64. */
export const storedKeyPair = v.object({ algorithm: v.literal('Ed25519', 'ES256'), public: v.nonEmpty, private: v.nonEmpty });
type StoredKeyPair = v.Infer<typeof storedKeyPair>;

export interface PublicKey {
  readonly algorithm: Algorithm;
  readonly public: string;
}

export interface TabletKey extends PublicKey {
  /** The signature in base64. */
  readonly sign: (statement: Bytes) => Promise<string>;
}

async function generate(): Promise<readonly [Algorithm, CryptoKeyPair]> {
  try {
    return ['Ed25519', (await crypto.subtle.generateKey(ways.Ed25519.make, true, ['sign', 'verify'])) as CryptoKeyPair];
  } catch {
    return ['ES256', await crypto.subtle.generateKey(ways.ES256.make, true, ['sign', 'verify'])];
  }
}

export async function newKeyPair(): Promise<StoredKeyPair> {
  const [algorithm, pair] = await generate();
  const raw = async (format: 'raw' | 'pkcs8', key: CryptoKey) => toBase64(new Uint8Array(await crypto.subtle.exportKey(format, key)));
  return { algorithm, public: await raw('raw', pair.publicKey), private: await raw('pkcs8', pair.privateKey) };
}

/** Rejects where this browser cannot use the key. */
export async function openKeyPair(stored: StoredKeyPair): Promise<TabletKey> {
  const { algorithm } = stored;
  const raw = fromBase64(stored.private);
  const key = await crypto.subtle.importKey('pkcs8', raw, ways[algorithm].make, false, ['sign']).finally(() => {
    raw.fill(0);
  });
  return {
    algorithm,
    public: stored.public,
    sign: async (statement) => toBase64(new Uint8Array(await crypto.subtle.sign(ways[algorithm].sign, key, statement))),
  };
}

const lines = (...list: readonly string[]): Bytes => toBytes(list.join('\n'));

/** What is signed to register a key. */
export function keyStatement(tablet: string, { algorithm, public: half }: PublicKey): Bytes {
  return lines('doorsill-key/1', tablet, algorithm, half);
}

/** What is signed of a push: its first line, without the end. */
export function pushStatement(first: Bytes): Bytes {
  return join([toBytes('doorsill-push/1\n'), first]);
}
