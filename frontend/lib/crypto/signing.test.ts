import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import { toBytes, toText, type Bytes } from '../bytes';
import { envelopeStatement, fromBase64, type Envelope } from './envelope';
import { keyStatement, newKeyPair, openKeyPair, pushStatement, type PublicKey } from './signing';

interface Check extends PublicKey {
  /** In hex. */
  readonly private: string;
  readonly message: string;
  readonly signature: string;
}

interface Example extends PublicKey {
  readonly what: 'key' | 'push' | 'envelope' | 'sign-in';
  readonly fields: Readonly<Record<string, string | number>>;
  readonly statement: string;
  readonly signature: string;
}

/** The same file as internal/signing replays. */
const file = JSON.parse(readFileSync(join('testdata', 'signing', 'examples.json'), 'utf8')) as {
  readonly check: readonly Check[];
  readonly examples: readonly Example[];
};

const ways = {
  Ed25519: { key: { name: 'Ed25519' }, verify: { name: 'Ed25519' } },
  ES256: { key: { name: 'ECDSA', namedCurve: 'P-256' }, verify: { name: 'ECDSA', hash: 'SHA-256' } },
} as const;

async function verified({ algorithm, public: half }: PublicKey, statement: Bytes, signature: string): Promise<boolean> {
  const key = await crypto.subtle.importKey('raw', fromBase64(half), ways[algorithm].key, false, ['verify']);
  return crypto.subtle.verify(ways[algorithm].verify, key, fromBase64(signature), statement);
}

/** PKCS #8 of a private key of Ed25519, RFC 8410, section 7. */
const pkcs8 = (raw: string) => Buffer.from(`302e020100300506032b657004220420${raw}`, 'hex').toString('base64');

test('the published values of RFC 8032 and RFC 6979 are verified, and those of the first are made', async () => {
  assert.equal(file.check.length, 4);
  for (const one of file.check) {
    const message = new Uint8Array(Buffer.from(one.message, 'hex'));
    assert.ok(await verified(one, message, one.signature));
    if (one.algorithm !== 'Ed25519') continue;
    const key = await openKeyPair({ algorithm: 'Ed25519', public: one.public, private: pkcs8(one.private) });
    assert.equal(await key.sign(message), one.signature);
  }
});

test('every statement has the bytes that the server checks', async () => {
  const text = (one: Example, field: string) => String(one.fields[field]);
  const build: Readonly<Record<string, (one: Example) => Bytes>> = {
    key: (one) => keyStatement(text(one, 'tablet'), one),
    push: (one) => pushStatement(toBytes(text(one, 'first'))),
    envelope: (one) => envelopeStatement(one.fields as unknown as Envelope),
  };
  const built = new Set<string>();
  for (const one of file.examples) {
    const statement = build[one.what]?.(one) ?? toBytes(one.statement);
    if (build[one.what] !== undefined) built.add(one.what);
    assert.equal(toText(statement), one.statement, one.what);
    assert.ok(await verified(one, statement, one.signature), `${one.what} with ${one.algorithm}`);
  }
  assert.deepEqual([...built].sort(), Object.keys(build).sort());
});

test('a new key is of Ed25519, signs, and cannot be read out once it is opened', async () => {
  const pair = await newKeyPair();
  assert.equal(pair.algorithm, 'Ed25519');
  const key = await openKeyPair(pair);
  const statement = pushStatement(toBytes('{}'));
  assert.ok(await verified(key, statement, await key.sign(statement)));
  assert.equal(JSON.stringify(key).includes(pair.private), false);
});

test('where the browser has no Ed25519 the key is of ECDSA', async (t) => {
  const generate = crypto.subtle.generateKey.bind(crypto.subtle) as (...args: unknown[]) => Promise<CryptoKeyPair>;
  t.mock.method(crypto.subtle, 'generateKey', (...args: unknown[]) =>
    (args[0] as { readonly name: string }).name === 'Ed25519'
      ? Promise.reject(new DOMException('Unrecognized name', 'NotSupportedError'))
      : generate(...args),
  );
  const pair = await newKeyPair();
  assert.equal(pair.algorithm, 'ES256');
  const key = await openKeyPair(pair);
  const statement = toBytes('x');
  const signature = await key.sign(statement);
  assert.equal(fromBase64(signature).length, 64);
  assert.ok(await verified(key, statement, signature));
});
