import assert from 'node:assert/strict';
import { test } from 'node:test';
import { noWaiting } from './waiting';

test('the oldest that waits stays the oldest, and each subject has its own count', () => {
  const three = noWaiting
    .plus('visit-a', '2026-03-02T10:00:00.000Z')
    .plus('client-a', '2026-03-02T10:01:00.000Z')
    .plus('visit-a', '2026-03-02T10:02:00.000Z');
  assert.equal(three.total, 3);
  assert.equal(three.oldest, '2026-03-02T10:00:00.000Z');
  assert.deepEqual(
    [...three.of],
    [
      ['visit-a', 2],
      ['client-a', 1],
    ],
  );
  assert.equal(noWaiting.total, 0);
});
