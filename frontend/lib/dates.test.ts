import assert from 'node:assert/strict';
import { test } from 'node:test';
import { daysAfter } from './dates';

test('days after a date go over months, years and the change of clocks', () => {
  assert.equal(daysAfter('2026-11-30', 28), '2026-12-28');
  assert.equal(daysAfter('2026-12-15', 56), '2027-02-09');
  assert.equal(daysAfter('2027-03-20', 28), '2027-04-17');
  assert.equal(daysAfter('2028-02-01', 28), '2028-02-29');
});
