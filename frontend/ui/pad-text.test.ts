import assert from 'node:assert/strict';
import { test } from 'node:test';
import { padPress, readNumber, type PadKey } from './pad-text';

function typed(keys: readonly PadKey[], decimals: number): string {
  return keys.reduce((text, key) => padPress(text, key, decimals), '');
}

test('keys build a number, a first 0 yields, and a second point changes nothing', () => {
  assert.equal(typed(['4', '2', '0'], 0), '420');
  assert.equal(typed(['0', '7'], 0), '7');
  assert.equal(typed(['point', '5'], 1), '0.5');
  assert.equal(typed(['1', 'point', 'point', '5', '7'], 1), '1.5');
  assert.equal(typed(['1', 'point', '5'], 0), '15');
});

test('delete takes one digit, and nothing from nothing', () => {
  assert.equal(typed(['4', '2', 'back'], 0), '4');
  assert.equal(typed(['back'], 0), '');
});

test('blank is not 0', () => {
  assert.deepEqual(readNumber('  ', 1), { kind: 'blank' });
  assert.deepEqual(readNumber('0', 1), { kind: 'number', value: 0 });
});

test('a comma is a decimal point', () => {
  assert.deepEqual(readNumber('2,5', 1), { kind: 'number', value: 2.5 });
});

const refused: readonly (readonly [text: string, decimals: number, expected: RegExp])[] = [
  ['1,000.5', 1, /Expected a number such as 12\.5, got "1,000\.5"/],
  ['-3', 1, /Expected a number such as 12\.5, got "-3"/],
  ['12 gf', 1, /got "12 gf"/],
  ['1e3', 0, /Expected a number such as 12, got "1e3"/],
  ['2.55', 1, /Expected at most 1 digit after the point, got "2\.55"/],
  ['2.5', 0, /Expected a whole number, got "2\.5"/],
];

for (const [text, decimals, expected] of refused) {
  test(`refuses "${text}" and says what it expected`, () => {
    const read = readNumber(text, decimals);
    assert.equal(read.kind, 'wrong');
    assert.match(read.kind === 'wrong' ? read.message : '', expected);
  });
}

test('a minus is taken where the item allows it', () => {
  assert.deepEqual(readNumber('-30', 0, true), { kind: 'number', value: -30 });
  assert.deepEqual(readNumber('−30', 0, true), { kind: 'number', value: -30 });
});
