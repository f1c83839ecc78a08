/**
 * Sealing to a public key: HPKE (RFC 9180) in base mode with DHKEM(P-256,
 * HKDF-SHA256), HKDF-SHA256 and AES-256-GCM, by the browser's own crypto. Only
 * what a sender needs; internal/seal opens the boxes.
 */
import { join, toBytes, type Bytes } from '../bytes';

const KEM = bytesOf(0x00, 0x10);
const SUITE = join([KEM, bytesOf(0x00, 0x01), bytesOf(0x00, 0x02)]);
const CURVE = { name: 'ECDH', namedCurve: 'P-256' } as const;
const NOTHING = new Uint8Array(0);

function bytesOf(...list: readonly number[]): Bytes {
  return new Uint8Array(list);
}

export interface Sealed {
  /** The sender's one-time public key. */
  readonly enc: Bytes;
  readonly box: Bytes;
}

/** HKDF in its two halves with the RFC's labels; every output is one block of the hash or less. */
function labelled(suite: Bytes) {
  const version = toBytes('HPKE-v1');
  const hmac = async (key: Bytes, data: Bytes): Promise<Bytes> => {
    // A browser takes no empty key; zeros are what an empty one is padded with.
    const raw = key.length === 0 ? new Uint8Array(32) : key;
    const made = await crypto.subtle.importKey('raw', raw, { name: 'HMAC', hash: 'SHA-256' }, false, ['sign']);
    return new Uint8Array(await crypto.subtle.sign('HMAC', made, data));
  };
  return {
    extract: (salt: Bytes, label: string, secret: Bytes) => hmac(salt, join([version, suite, toBytes(label), secret])),
    expand: async (secret: Bytes, label: string, info: Bytes, length: number) => {
      const asked = join([bytesOf(0, length), version, suite, toBytes(label), info, bytesOf(1)]);
      return (await hmac(secret, asked)).slice(0, length);
    },
  };
}

/** What both ends agree on: `mine` is one's own private key, the points are raw. */
export async function agree(
  mine: CryptoKey,
  theirs: Bytes,
  enc: Bytes,
  receiver: Bytes,
  info: Bytes,
): Promise<{ readonly key: Bytes; readonly nonce: Bytes }> {
  const point = await crypto.subtle.importKey('raw', theirs, CURVE, false, []);
  const shared = new Uint8Array(await crypto.subtle.deriveBits({ name: 'ECDH', public: point }, mine, 256));
  const kem = labelled(join([toBytes('KEM'), KEM]));
  const secret = await kem.expand(await kem.extract(NOTHING, 'eae_prk', shared), 'shared_secret', join([enc, receiver]), 32);
  const { extract, expand } = labelled(join([toBytes('HPKE'), SUITE]));
  const context = join([bytesOf(0), await extract(NOTHING, 'psk_id_hash', NOTHING), await extract(NOTHING, 'info_hash', info)]);
  const base = await extract(secret, 'secret', NOTHING);
  return { key: await expand(base, 'key', context, 32), nonce: await expand(base, 'base_nonce', context, 12) };
}

/** Seals to a raw P-256 point; `pair` is for tests, each box takes a fresh one. */
export async function sealTo(receiver: Bytes, info: Bytes, bound: Bytes, plain: Bytes, pair?: CryptoKeyPair): Promise<Sealed> {
  const own = pair ?? (await crypto.subtle.generateKey(CURVE, true, ['deriveBits']));
  const enc = new Uint8Array(await crypto.subtle.exportKey('raw', own.publicKey));
  const { key, nonce } = await agree(own.privateKey, receiver, enc, receiver, info);
  const made = await crypto.subtle.importKey('raw', key, 'AES-GCM', false, ['encrypt']);
  const box = await crypto.subtle.encrypt({ name: 'AES-GCM', iv: nonce, additionalData: bound }, made, plain);
  return { enc, box: new Uint8Array(box) };
}
