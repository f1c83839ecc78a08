import assert from 'node:assert/strict';
import { test } from 'node:test';
import { randomBytes, toBytes, toText } from './bytes';
import { createCipher, newDataKey, rewrapDataKey, unwrapDataKey } from './cipher';
import { createDeriver } from './derive';
import { StoreError } from './errors';

const isDamaged = (error: unknown) => error instanceof StoreError && error.code === 'damaged';
const isPassword = (error: unknown) => error instanceof StoreError && error.code === 'password';

async function newCipher() {
  const { key } = await newDataKey(randomBytes(32), 'person-a');
  return createCipher(key);
}

test('a row opens again in its own place', async () => {
  const cipher = await newCipher();
  const box = await cipher.seal('events', 'tab:1', toBytes('Grüße'));
  assert.equal(toText(await cipher.open('events', 'tab:1', box)), 'Grüße');
  assert.equal(new TextDecoder().decode(box).includes('Gr'), false);
});

test('a row that was changed in one bit does not open', async () => {
  const cipher = await newCipher();
  const box = await cipher.seal('events', 'tab:1', toBytes('answer'));
  for (const at of [0, 12, box.length - 1]) {
    const changed = box.slice();
    changed[at] = (changed[at] ?? 0) ^ 1;
    await assert.rejects(cipher.open('events', 'tab:1', changed), isDamaged);
  }
  await assert.rejects(cipher.open('events', 'tab:1', box.slice(0, 20)), isDamaged);
});

test("rows cannot be put in each other's place or store", async () => {
  const cipher = await newCipher();
  const box = await cipher.seal('events', 'tab:1', toBytes('answer'));
  await assert.rejects(cipher.open('events', 'tab:2', box), isDamaged);
  await assert.rejects(cipher.open('results', 'tab:1', box), isDamaged);
});

test("another person's key opens nothing", async () => {
  const box = await (await newCipher()).seal('events', 'tab:1', toBytes('answer'));
  await assert.rejects((await newCipher()).open('events', 'tab:1', box), isDamaged);
});

test('a wrong password does not unwrap the data key; a change of password keeps it', async () => {
  const deriver = createDeriver(() => Promise.reject(new Error('no memory')));
  const { bytes, params } = await deriver.fresh('correct horse');
  assert.equal(params.name, 'pbkdf2-sha256', 'without memory for Argon2id the fallback is used');
  const { key, wrapped } = await newDataKey(bytes, 'person-a');
  const wrong = await deriver.derive('correct house', params);
  await assert.rejects(unwrapDataKey(wrong, 'person-a', wrapped), isPassword);
  await assert.rejects(unwrapDataKey(bytes, 'person-b', wrapped), isPassword);
  const next = await deriver.fresh('battery staple');
  const again = await rewrapDataKey(bytes, next.bytes, 'person-a', wrapped);
  const box = await createCipher(key).seal('meta', 'k', toBytes('x'));
  const reopened = createCipher(await unwrapDataKey(next.bytes, 'person-a', again));
  assert.equal(toText(await reopened.open('meta', 'k', box)), 'x');
});

test('a key in use cannot be read out', async () => {
  const { key } = await newDataKey(randomBytes(32), 'person-a');
  await assert.rejects(crypto.subtle.exportKey('raw', key));
});
