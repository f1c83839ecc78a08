import assert from 'node:assert/strict';
import { test } from 'node:test';
import { needsEvent } from '../features/kit/needs-event';
import type { Needs, Visit } from '../lib/model.gen';
import { COUNTS, needsAnswered, readCount, sitesSpokenOf } from './needs';

const stamp = { ref: 'a:1', by: 'p', at: '2026-03-02T10:00:00Z', pos: 1 };

function question(field: string) {
  const found = COUNTS.find((one) => one.field === field);
  assert.ok(found);
  return found;
}

test('a count is read within what records take', () => {
  assert.deepEqual(readCount(question('hours_driving'), '6,5'), { value: 6.5 });
  assert.deepEqual(readCount(question('wrist_deg'), '-30'), { value: -30 });
  assert.deepEqual(readCount(question('wait_weeks'), ' '), { value: null });
  const wrong = (field: string, text: string) => {
    const read = readCount(question(field), text);
    return 'error' in read ? read.error : '';
  };
  assert.match(wrong('hours_driving', '25'), /Expected 0 to 24 h, got 25/);
  assert.match(wrong('hours_driving', '-1'), /Expected a number/);
  assert.match(wrong('wrist_deg', '-91'), /Expected -90 to 90/);
  assert.match(wrong('wait_weeks', '2.5'), /whole number/);
});

test('sites are offered once, the chosen one first', () => {
  const visit = {
    setup: { site: 'chin' },
    readings: [{ site: 'thumb-left' }, { site: 'chin' }, { site: 'knee-left', slip: 'wrong site' }],
    needs: { ...stamp, moisture: { chin: 'wet' }, rejected: { 'head-back': 'Pain.' } },
  } as unknown as Visit;
  assert.deepEqual(sitesSpokenOf(visit), ['chin', 'thumb-left', 'head-back']);
});

test('“no” is an answer and nothing said is not', () => {
  assert.equal(needsAnswered(undefined).done, 0);
  const needs: Needs = { ...stamp, rough_ground: false, wait_weeks: 0, base: 'stable' };
  assert.equal(needsAnswered(needs).done, 3);
});

test('what is blank is taken back, and 0 and “no” are not blank', () => {
  assert.deepEqual(needsEvent({ wait_weeks: undefined }), ['needs-unset', { fields: ['wait_weeks'] }]);
  assert.deepEqual(needsEvent({ wish_site: '' }), ['needs-unset', { fields: ['wish_site'] }]);
  assert.deepEqual(needsEvent({ moisture: { chin: '' } }), ['needs-unset', { fields: ['moisture.chin'] }]);
  assert.deepEqual(needsEvent({ wait_weeks: 0 }), ['needs-noted', { wait_weeks: 0 }]);
  assert.deepEqual(needsEvent({ rough_ground: false }), ['needs-noted', { rough_ground: false }]);
  assert.deepEqual(needsEvent({ rejected: { chin: '' } }), ['needs-noted', { rejected: { chin: '' } }]);
});
