import assert from 'node:assert/strict';
import { test } from 'node:test';
import { gaugeText, isBurst, isNumberKey, noBurst, splitBurst, typedKey, type Burst } from './typing';

/** Types keys with so many milliseconds between them. */
function keys(text: string, gap: number, start = 0, burst: Burst = noBurst, length = 0): Burst {
  return [...text].reduce((now, _, i) => typedKey(now, start + i * gap, length + i), burst);
}

test('a gauge types without gaps, a person never does', () => {
  assert.equal(isBurst(keys('248', 4), 12), true);
  assert.equal(isBurst(keys('248', 120), 240), false);
  assert.equal(isBurst(keys('248', 4), 900), false, 'a person who ends what a gauge typed');
  const uneven = [0, 90, 94, 98, 101].reduce((now, at, i) => typedKey(now, at, i), noBurst);
  assert.deepEqual(splitBurst('05605', uneven, 103), { reading: '05605', begun: '' }, 'a gauge that hesitates is not cut in two');
  assert.equal(isBurst(keys('2', 4), 4), false);
});

test('what a person had begun stays apart from what a gauge sends after it', () => {
  const burst = keys('248', 4, 5_000, keys('19', 150), 2);
  assert.deepEqual(splitBurst('19248', burst, 5_012), { reading: '248', begun: '19' });
  assert.deepEqual(splitBurst('248', keys('248', 4), 12), { reading: '248', begun: '' });
  assert.deepEqual(splitBurst('248', keys('248', 150), 450), { reading: '248', begun: '' });
});

for (const [sent, unit, read] of [
  ['248', 'gf', '248'],
  ['  +248.5 ', 'gf', '248.5'],
  ['0,248 N', 'N', '0,248'],
  ['248gf', 'gf', '248'],
  ['248 N', 'gf', '248 N'],
] as const) {
  test(`of "${sent}" in a visit in ${unit} "${read}" is read`, () => assert.equal(gaugeText(sent, unit), read));
}

test('digits, point and comma are keys of a number; with Control or another letter they are not', () => {
  const key = (name: string, more = {}) => isNumberKey({ key: name, ctrlKey: false, metaKey: false, altKey: false, ...more });
  assert.deepEqual(
    ['0', '9', '.', ',', 'a', 'Enter', '-'].map((name) => key(name)),
    [true, true, true, true, false, false, false],
  );
  assert.equal(key('1', { ctrlKey: true }), false);
});
