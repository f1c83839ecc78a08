import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { Visit } from '../../lib/model.gen';
import { courseAlong, needsEvent } from './needs-event';

const open = { needs: { course: 'slow' } } as Pick<Visit, 'needs' | 'signed'>;

test('the course of the client’s page goes along with an answer, once, and never into a signed visit', () => {
  assert.deepEqual(courseAlong(open, 'fast'), { course: 'fast' });
  assert.deepEqual(courseAlong({}, 'fast'), { course: 'fast' });
  assert.deepEqual(courseAlong(open, 'slow'), {});
  assert.deepEqual(courseAlong(open, ''), {}, 'what nobody knows unsays nothing');
  assert.deepEqual(courseAlong(open, undefined), {});
  assert.deepEqual(courseAlong({ ...open, signed: {} as NonNullable<Visit['signed']> }, 'fast'), {});
});

test('an answer that is taken back takes nothing along', () => {
  assert.deepEqual(needsEvent({ course: 'fast', base: '' }), ['needs-unset', { fields: ['base'] }]);
  assert.deepEqual(needsEvent({ course: 'fast', base: 'stable' }), ['needs-noted', { course: 'fast', base: 'stable' }]);
});
