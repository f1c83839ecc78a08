import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { join as path } from 'node:path';
import { test } from 'node:test';
import { toBytes, toText, type Bytes } from '../bytes';
import { boundTo, ENVELOPE_FORMAT, fromBase64, sealEnvelope, type Envelope } from './envelope';
import { agree, sealTo } from './hpke';

interface Vector {
  readonly name: string;
  readonly aead: number;
  readonly info: string;
  readonly skEm: string;
  readonly pkRm: string;
  readonly enc: string;
  readonly aad: string;
  readonly pt: string;
  readonly ct: string;
}

interface Shared {
  readonly pem: string;
  readonly public: string;
  readonly lines: string;
  readonly browser: Envelope;
  readonly go: Envelope;
}

const read = (name: string): unknown => JSON.parse(readFileSync(path(process.cwd(), 'testdata', 'seal', name), 'utf8'));
const bytes = (hex: string): Bytes => new Uint8Array(Buffer.from(hex, 'hex'));
const hex = (data: Uint8Array): string => Buffer.from(data).toString('hex');
const curve = { name: 'ECDH', namedCurve: 'P-256' } as const;

/** A key pair from a printed private scalar and its point. */
async function pairOf(scalar: string, point: string): Promise<CryptoKeyPair> {
  const [d, x, y] = [scalar, point.slice(2, 66), point.slice(66)].map((one) => Buffer.from(one, 'hex').toString('base64url'));
  const jwk = { kty: 'EC', crv: 'P-256', x: x ?? '', y: y ?? '' };
  return {
    privateKey: await crypto.subtle.importKey('jwk', { ...jwk, d: d ?? '' }, curve, true, ['deriveBits']),
    publicKey: await crypto.subtle.importKey('jwk', jwk, curve, true, []),
  };
}

test('sealing gives the published bytes for the published one-time key', async () => {
  const { vectors } = read('rfc9180.json') as { readonly vectors: readonly Vector[] };
  const ours = vectors.find((one) => one.aead === 2);
  assert.ok(ours);
  const sealed = await sealTo(bytes(ours.pkRm), bytes(ours.info), bytes(ours.aad), bytes(ours.pt), await pairOf(ours.skEm, ours.enc));
  assert.equal(hex(sealed.enc), ours.enc);
  assert.equal(hex(sealed.box), ours.ct);
});

test('what the server’s package has sealed opens by the same agreement', async () => {
  const shared = read('shared.json') as Shared;
  const der = new Uint8Array(Buffer.from(shared.pem.replace(/-----[^-]+-----/g, ''), 'base64'));
  const mine = await crypto.subtle.importKey('pkcs8', der, curve, false, ['deriveBits']);
  for (const one of [shared.go, shared.browser]) {
    const enc = fromBase64(one.enc);
    const { key, nonce } = await agree(mine, enc, enc, fromBase64(shared.public), toBytes(ENVELOPE_FORMAT));
    const opener = await crypto.subtle.importKey('raw', key, 'AES-GCM', false, ['decrypt']);
    const plain = await crypto.subtle.decrypt(
      { name: 'AES-GCM', iv: nonce, additionalData: boundTo(one.key, one) },
      opener,
      fromBase64(one.sealed),
    );
    assert.equal(toText(new Uint8Array(plain)), shared.lines);
  }
});

test('each envelope takes a one-time key of its own', async () => {
  const shared = read('shared.json') as Shared;
  const head = { tablet: 't', person: 'p', from: 1, to: 2 };
  const make = () => sealEnvelope({ id: shared.go.key, key: shared.public }, head, toBytes(shared.lines));
  const [a, b] = [await make(), await make()];
  assert.notEqual(a.enc, b.enc);
  assert.notEqual(a.sealed, b.sealed);
  assert.equal(a.sealed.includes(btoa(shared.lines).slice(0, 12)), false);
});
