import assert from 'node:assert/strict';
import { test } from 'node:test';
import { randomBytes, toBytes, toText } from '../bytes';
import { StoreError } from '../errors';
import * as v from '../schema';
import { createCipher, importKey, seal } from './cipher';
import { createDeriver, deriveParams } from './derive';
import { newRing, openRing, rotatedRing, withRoot } from './key-ring';

const isDamaged = (error: unknown) => error instanceof StoreError && error.code === 'damaged';
const isPassword = (error: unknown) => error instanceof StoreError && error.code === 'password';
const newKey = () => importKey(randomBytes(32));

test('a row opens again in its own place', async () => {
  const cipher = createCipher('person-a', await newKey());
  const box = await cipher.seal('events', 'tab:1', toBytes('Grüße'));
  assert.equal(toText(await cipher.open('events', 'tab:1', box)), 'Grüße');
  assert.equal(new TextDecoder().decode(box).includes('Gr'), false);
});

test('a row that was changed in one bit does not open', async () => {
  const cipher = createCipher('person-a', await newKey());
  const box = await cipher.seal('events', 'tab:1', toBytes('answer'));
  for (const at of [0, 12, box.length - 1]) {
    const changed = box.slice();
    changed[at] = (changed[at] ?? 0) ^ 1;
    await assert.rejects(cipher.open('events', 'tab:1', changed), isDamaged);
  }
  await assert.rejects(cipher.open('events', 'tab:1', box.slice(0, 20)), isDamaged);
});

test('a row opens nowhere but in its store, under its tablet and number, as its person’s, by its schema', async () => {
  const key = await newKey();
  const cipher = createCipher('person-a', key);
  const box = await cipher.seal('events', 'tab:1', toBytes('answer'));
  for (const [store, ref] of [
    ['results', 'tab:1'],
    ['events', 'tab:2'],
    ['events', 'tac:1'],
    ['events', 'tab'],
    ['event', 's|tab:1'],
  ] as const) {
    await assert.rejects(cipher.open(store, ref, box), isDamaged, `${store} ${ref}`);
  }
  await assert.rejects(createCipher('person-b', key).open('events', 'tab:1', box), isDamaged, 'another person, even with this key');
  const later = await seal(key, 'doorsill-row|4|person-a|events|tab:1', toBytes('answer'));
  await assert.rejects(cipher.open('events', 'tab:1', later), isDamaged, 'a schema that this version does not know');
});

test('a row of schema 1 or 2 still opens in its place, and is sealed anew as one of today', async () => {
  const key = await newKey();
  const cipher = createCipher('person-a', key);
  for (const bound of ['events|tab:1', 'doorsill-row|2|person-a|events|tab:1']) {
    const before = await seal(key, bound, toBytes('answer'));
    assert.equal(toText(await cipher.open('events', 'tab:1', before)), 'answer');
    await assert.rejects(cipher.open('events', 'tab:2', before), isDamaged);
    assert.equal(await cipher.isOlder('events', 'tab:1', before), true);
    assert.equal(await cipher.isOlder('events', 'tab:2', before), null);
  }
  const renewed = await cipher.renew('events', 'tab:1', await seal(key, 'events|tab:1', toBytes('answer')));
  assert.ok(renewed);
  assert.equal(await cipher.isOlder('events', 'tab:1', renewed), false);
  assert.equal(await cipher.renew('events', 'tab:1', renewed), null, 'once is enough');
  await assert.rejects(createCipher('person-b', key).open('events', 'tab:1', renewed), isDamaged);
});

test("another person's key opens nothing", async () => {
  const box = await createCipher('person-a', await newKey()).seal('events', 'tab:1', toBytes('answer'));
  await assert.rejects(createCipher('person-a', await newKey()).open('events', 'tab:1', box), isDamaged);
});

test('a wrong password does not open the keys; new keys still open rows of before', async () => {
  const [right, wrong, next] = [await newKey(), await newKey(), await newKey()];
  const { ring, boxes } = await newRing(right, 'person-a');
  const row = await createCipher('person-a', ring.key).seal('meta', 'k', toBytes('x'));
  const open = (wrapping: CryptoKey, person: string, { wrapped, data } = boxes) =>
    withRoot(wrapping, person, wrapped, (raw) => openRing(person, raw, data));
  await assert.rejects(open(wrong, 'person-a'), isPassword);
  await assert.rejects(open(right, 'person-b'), isPassword);
  const turned = await rotatedRing({ wrapping: right, person: 'person-a', ...boxes }, next);
  await assert.rejects(open(right, 'person-a', turned.boxes), isPassword, 'the password of before opens nothing any more');
  const reopened = await open(next, 'person-a', turned.boxes);
  const cipher = createCipher('person-a', reopened.key, reopened.older);
  assert.equal(toText(await cipher.open('meta', 'k', row)), 'x');
  await assert.rejects(
    createCipher('person-a', reopened.key).open('meta', 'k', row),
    isDamaged,
    'rows of before are not under the new key',
  );
});

test('a key in use cannot be read out', async () => {
  const { ring } = await newRing(await newKey(), 'person-a');
  await assert.rejects(crypto.subtle.exportKey('raw', ring.key));
});

test('where the worker gets no memory the password is stretched by PBKDF2 with 600,000 rounds, and that is written down', async () => {
  const asked: number[] = [];
  const poor = createDeriver((_password, params) => {
    asked.push(params.memory);
    return Promise.reject(new RangeError('WebAssembly.Memory(): could not allocate memory'));
  });
  const { bytes, params } = await poor.fresh('correct horse');
  assert.deepEqual(asked, [46 * 1024], 'Argon2id with 46 MiB was tried first');
  assert.equal(params.name, 'pbkdf2-sha256');
  assert.ok(params.name === 'pbkdf2-sha256' && params.rounds >= 600_000);
  assert.deepEqual(await poor.derive('correct horse', params), bytes);
  // What was wrapped by Argon2id says so instead of asking for another password.
  const argon = { name: 'argon2id', memory: 46 * 1024, passes: 2, salt: randomBytes(16) } as const;
  await assert.rejects(poor.derive('correct horse', argon), (error: unknown) => error instanceof StoreError && error.code === 'unknown');
});

test('weaker parameters than the guidance allows are not taken from a changed row', () => {
  const salt = randomBytes(16);
  for (const weak of [
    { name: 'argon2id', memory: 45 * 1024, passes: 2, salt },
    { name: 'argon2id', memory: 46 * 1024, passes: 0, salt },
    { name: 'pbkdf2-sha256', rounds: 599_999, salt },
    { name: 'argon2id', memory: 46 * 1024, passes: 2, salt: randomBytes(8) },
    { name: 'argon2id', memory: 4 * 1024 * 1024, passes: 2, salt },
  ])
    assert.equal(v.tryParse(deriveParams, weak), undefined, JSON.stringify(weak));
});
