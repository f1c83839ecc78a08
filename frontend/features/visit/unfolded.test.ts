import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { Section } from '../../lib';
import { followingPart } from './unfolded';

const sections: readonly Section[] = ['a', 'b', 'c', 'd'].map((code) => ({ code, title: code.toUpperCase(), items: [] }));

test('a finished part is followed by the next with something open, round again at the end', () => {
  assert.equal(followingPart(sections, ['a'], new Set(['c', 'd'])), 'c');
  assert.equal(followingPart(sections, ['b', 'd'], new Set(['a', 'c'])), 'a');
});

test('what is shown already does not come again, and nothing follows when nothing is open', () => {
  assert.equal(followingPart(sections, ['c', 'd'], new Set(['c'])), undefined);
  assert.equal(followingPart(sections, ['d'], new Set()), undefined);
});
