import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { Visit } from '../../lib/model.gen';
import { bookedBeside } from './recheck';

const answered = (...heads: readonly object[]) => ({ answers: [{ item: 'hnd-recheck', heads }] }) as unknown as Visit;
const yes = { state: 'answered', level: 'yes' };

test('a date asks whether it is booked, and an answer without a date is said', () => {
  const nothing = { answers: [] } as unknown as Visit;
  for (const [visit, date, want] of [
    [nothing, '', undefined],
    [nothing, '2030-03-01', 'ask'],
    [answered({ state: 'not-tested' }), '2030-03-01', 'ask'],
    [answered(yes), '2030-03-01', 'yes'],
    [answered(yes), '', 'no date'],
    // What somebody answered otherwise is theirs, and of two answers neither stands yet.
    [answered({ state: 'answered', level: 'no' }), '2030-03-01', undefined],
    [answered(yes, { state: 'answered', level: 'no' }), '2030-03-01', undefined],
    [answered(yes, { state: 'answered', level: 'no' }), '', undefined],
  ] as const)
    assert.equal(bookedBeside(visit, date), want, `${JSON.stringify(visit)} ${date}`);
});
