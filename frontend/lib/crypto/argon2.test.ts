import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { test } from 'node:test';
import setup from 'argon2id/lib/setup.js';
import { argon2id, type WasmLoader } from './argon2';

const find = createRequire(import.meta.url);
const from =
  (name: string): WasmLoader =>
  async (imports) =>
    WebAssembly.instantiate(new Uint8Array(await readFile(find.resolve(`argon2id/dist/${name}.wasm`))), imports);
const fast = from('simd');
const plain = from('no-simd');
const refused: WasmLoader = () => Promise.reject(new Error('this processor cannot'));
const hex = (bytes: Uint8Array) => Buffer.from(bytes).toString('hex');

test('the worked example of RFC 9106, section 5.3, comes out', async () => {
  const bytes = (value: number, length: number) => new Uint8Array(length).fill(value);
  const example = {
    password: bytes(1, 32),
    salt: bytes(2, 16),
    secret: bytes(3, 8),
    ad: bytes(4, 12),
    memorySize: 32,
    passes: 3,
    parallelism: 4,
    tagLength: 32,
  };
  for (const loaders of [
    [fast, refused],
    [plain, refused],
  ] as const) {
    const compute = await setup(...loaders);
    assert.equal(hex(compute(example)), '0d640df58d78766c08c037a34a8b53c9d01ef0452d75b65eb52520e96b01e659');
  }
});

test('the key is the one that tablets have wrapped their records with since the first version', async () => {
  const ask = { password: 'Grüße aus dem Flur', salt: new Uint8Array(16).map((_, at) => at), memory: 19 * 1024, passes: 2 };
  const want = '5720f7dad9886bbcd17f502be9a9b529f9066961de489453c39b00c38ac3fc90';
  assert.equal(hex(await argon2id(ask, fast, refused)), want);
  assert.equal(hex(await argon2id(ask, plain, refused)), want, 'by the plain kind');
});

test('too little memory is said, not hidden', async () => {
  const ask = { password: 'x', salt: new Uint8Array(16), memory: 5 * 1024 * 1024, passes: 1 };
  await assert.rejects(argon2id(ask, fast, plain));
});
