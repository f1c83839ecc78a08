import assert from 'node:assert/strict';
import { test } from 'node:test';
import { weeksLeft } from './case-table';

test('weeks left are said where the control may come too late, or nobody knows when it comes', () => {
  assert.equal(weeksLeft({ weeks_left: 9, weeks_to_come: 14 }), 'about 9 weeks left, wait 14');
  assert.equal(weeksLeft({ weeks_left: 1 }), 'about 1 week left');
  assert.equal(weeksLeft({ weeks_left: 0, weeks_to_come: 3 }), 'no weeks left, wait 3');
  assert.equal(weeksLeft({ weeks_left: 20, weeks_to_come: 14 }), '');
  assert.equal(weeksLeft({}), '');
});
