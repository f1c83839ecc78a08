import assert from 'node:assert/strict';
import { test } from 'node:test';
import { rateLimited } from './rate-limit';

test('how long to wait is said in words, for one as for many', () => {
  for (const [ms, words] of [
    [400, '1 second'],
    [1_001, '2 seconds'],
    [90_000, '2 minutes'],
  ] as const)
    assert.equal(rateLimited(ms).message, `Too many wrong passwords. Try again in ${words}. Nothing on this tablet is lost.`);
});
