import assert from 'node:assert/strict';
import { test } from 'node:test';
import { itemOf } from './item-of';

test('the item that a body is about is found, also in an amendment', () => {
  assert.equal(itemOf({ item: 'pos-head', state: 'answered' }), 'pos-head');
  assert.equal(itemOf({ reason: 'a slip', kind: 'answer-given', change: { item: 'pos-head' } }), 'pos-head');
  for (const none of [null, undefined, 'pos-head', {}, { item: 3 }, { change: null }]) assert.equal(itemOf(none), '');
});
