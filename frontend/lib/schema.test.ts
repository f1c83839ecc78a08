import assert from 'node:assert/strict';
import { test } from 'node:test';
import * as v from './schema';

const person = v.object({
  name: v.nonEmpty,
  age: v.optional(v.int(0, 150)),
  roles: v.nullish(v.list(v.literal('lead', 'clinician')), []),
  note: v.fallback(v.string, ''),
});

test('an object in its shape comes back with the fields that are known, and no others', () => {
  assert.deepEqual(person({ name: 'A', age: 0, roles: ['lead'], note: 'n', more: 1 }), { name: 'A', age: 0, roles: ['lead'], note: 'n' });
  assert.deepEqual(person({ name: 'A', roles: null, note: 7 }), { name: 'A', roles: [], note: '' }, 'left out stays left out');
});

test('what is not in its shape is refused with what was expected', () => {
  for (const [value, want] of [
    [null, /an object/],
    ['A', /an object/],
    [{}, /a text/],
    [{ name: '' }, /a text/],
    [{ name: 'A', age: 151 }, /whole number from 0 to 150/],
    [{ name: 'A', age: 1.5 }, /whole number/],
    [{ name: 'A', roles: ['owner'] }, /lead or clinician/],
    [{ name: 'A', roles: { length: 0 } }, /a list/],
  ] as const)
    assert.throws(() => person(value), want, JSON.stringify(value));
  assert.throws(() => v.number(Number.NaN), /number/);
  assert.throws(() => v.object({ raw: v.unknown })({}), /something/);
  assert.equal(v.tryParse(person, {}), undefined);
});

test('of several shapes only the one that is named is read, and no name of the language', () => {
  const either = v.union('type', { a: v.object({ type: v.literal('a'), n: v.count }), b: v.object({ type: v.literal('b') }) });
  assert.deepEqual(either({ type: 'a', n: 1 }), { type: 'a', n: 1 });
  for (const value of [{ type: 'a' }, { type: 'c' }, { type: 'constructor' }, { n: 1 }, null])
    assert.throws(() => either(value), v.SchemaError);
});
