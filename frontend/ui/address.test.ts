import assert from 'node:assert/strict';
import { test } from 'node:test';

Object.assign(globalThis, { location: new URL('http://tablet.test/visits/v%201/?item=a') });
const { partsOf, usePlace } = await import('./address');

test('an address is read in its parts', () => {
  assert.deepEqual(usePlace(), { url: '/visits/v%201/?item=a', path: '/visits/v%201', query: { item: 'a' }, onward: false });
});

test('a path matches the pattern with as many parts, each named one with something in it', () => {
  assert.deepEqual(partsOf('/', '/'), {});
  assert.deepEqual(partsOf('/visits/:id/part/:code', '/visits/v%201/part/pos'), { id: 'v 1', code: 'pos' });
  assert.deepEqual(partsOf('/visits/:id', '/visits/50%'), { id: '50%' });
  for (const path of ['/', '/visits', '/visits/', '/visits/v/', '/visits/v/level', '/clients/v', '/visits/v/part/pos']) {
    assert.equal(partsOf('/visits/:id', path), null, path);
  }
});
