import assert from 'node:assert/strict';
import { createHmac, hkdfSync } from 'node:crypto';
import { test } from 'node:test';
import { createSetHash, emptySum, importSetKey, sameSum, toggle } from './set-hash';

const raw = () => new Uint8Array(32).map((_, at) => at);
const hash = async (about = 'person-a', from = raw()) => createSetHash(await importSetKey(from), about);

test('an element is the HMAC-SHA-256 of the row under a key derived by HKDF, as another library reckons them', async () => {
  const keys = Buffer.from(hkdfSync('sha256', raw(), Buffer.alloc(32), 'doorsill-rows|person-a', 96));
  const want = createHmac('sha256', keys.subarray(0, 32)).update('events|Grüße').digest('hex');
  assert.equal(Buffer.from((await hash()).element('events|Grüße')).toString('hex'), want);
});

test('the sum does not depend on the order, and a row that is taken away leaves nothing', async () => {
  const { element } = await hash();
  const of = (...rows: readonly string[]) => {
    const sum = emptySum();
    for (const row of rows) toggle(sum, element(row));
    return sum;
  };
  assert.ok(sameSum(of('a', 'b', 'c'), of('c', 'a', 'b')));
  assert.ok(sameSum(of('a', 'b', 'c', 'b'), of('a', 'c')));
  assert.equal(sameSum(of('a', 'b'), of('a', 'c')), false);
  assert.equal(sameSum(of('a'), of()), false);
});

test('a sealed sum opens under its key alone, shows nothing of itself, and not when one bit of it was changed', async () => {
  const one = await hash();
  const sum = one.element('a');
  const [first, second] = [one.seal(sum), one.seal(sum)];
  assert.deepEqual(one.open(first), sum);
  assert.deepEqual(one.open(second), sum);
  assert.notDeepEqual(first.slice(16, 48), second.slice(16, 48), 'another mask each time');
  assert.notDeepEqual(first.slice(16, 48), sum);
  for (let at = 0; at < first.length; at++) {
    const changed = first.slice();
    changed[at] = (changed[at] ?? 0) ^ 1;
    assert.equal(one.open(changed), null, `byte ${at}`);
  }
  assert.equal(one.open(first.slice(1)), null);
  assert.equal((await hash('person-b')).open(first), null, 'another person');
  assert.equal((await hash('person-a', raw().fill(9))).open(first), null, 'another key');
});
