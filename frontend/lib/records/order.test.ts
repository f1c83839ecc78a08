import assert from 'node:assert/strict';
import { test } from 'node:test';
import { newestFirst } from './order';

const NOW = new Date('2026-03-10T09:00:00.000Z');
const visit = (id: string, startedAt: string, place: number) => ({ id, startedAt: `${startedAt}T09:00:00.000Z`, place });
const order = (...visits: ReturnType<typeof visit>[]) =>
  newestFirst(visits, NOW)
    .map((one) => one.id)
    .join(' ');

test('visits stand by when they were, not by when they arrived', () => {
  assert.equal(order(visit('wednesday', '2026-03-04', 1), visit('monday', '2026-03-02', 2)), 'wednesday monday');
});

test('fault 22: a visit begun with a clock ten years on does not stay the newest for ten years', () => {
  const wrong = visit('wrong', '2036-03-06', 5);
  assert.equal(order(visit('before', '2026-03-04', 2), wrong, visit('after', '2026-03-09', 8)), 'after wrong before');
  assert.equal(order(wrong, visit('after', '2026-03-09', 8)), 'after wrong');
  assert.equal(order(visit('before', '2026-03-04', 2), visit('waits', '2036-03-06', 0)), 'waits before', 'one that waits was begun last');
});
