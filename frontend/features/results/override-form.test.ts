import assert from 'node:assert/strict';
import { test } from 'node:test';
import { resultWith, saying } from '../../ui/result/sample';
import type { Result } from '../../lib/model.gen';
import { addDays, choosableLevels, EMPTY_OVERRIDE, overrideBody, overrideProblems, raiseLimits, type OverrideDraft } from './override-form';

const TODAY = '2026-03-05';
const LIMITS = raiseLimits(
  new Map([
    ['override-text', 20],
    ['override-days', 28],
  ]),
);

function at(level: string, ...effects: readonly string[]): Result {
  return resultWith({ level, effects: effects.map((effect) => ({ effect, item: 'saf-a', message: saying('Sentence.') })) });
}

const RAISE: OverrideDraft = {
  level: 'home-ground',
  reason: 'known-driver',
  text: 'Has driven this hall for nine years.',
  mitigation: 'Speed at its lowest.',
  agreed: 'Client and daughter',
  until: '2026-04-02',
};

test('a level may go down freely and up by one', () => {
  assert.deepEqual(choosableLevels(at('accompanied')), ['pause', 'practise', 'home-ground']);
});

test('nothing lifts a level over a STOP or a STOP-CONTROL', () => {
  for (const effect of ['stop', 'stop-control']) {
    assert.deepEqual(choosableLevels(at('practise', effect)), ['pause']);
  }
  assert.deepEqual(choosableLevels(at('practise', 'stop-vehicle')), ['pause', 'accompanied']);
});

test('a complete raise has no problem, up to the last allowed day', () => {
  assert.deepEqual(overrideProblems(RAISE, at('accompanied'), TODAY, LIMITS), []);
  assert.equal(
    overrideProblems({ ...RAISE, until: '2026-04-03' }, at('accompanied'), TODAY, LIMITS)[0]?.message,
    'Until: expected a day from 2026-03-05 to 2026-04-02.',
  );
});

test('a raise needs an explanation, what makes it safe, who agreed and an end', () => {
  const fields = overrideProblems(
    { ...EMPTY_OVERRIDE, level: 'home-ground', reason: 'other', text: 'Too short.' },
    at('accompanied'),
    TODAY,
    LIMITS,
  ).map((p) => p.field);
  assert.deepEqual(fields, ['text', 'mitigation', 'agreed', 'until']);
});

test('a lower level needs only a reason', () => {
  assert.deepEqual(
    overrideProblems({ ...EMPTY_OVERRIDE, level: 'pause', reason: 'fluctuating', text: 'Ill today.' }, at('accompanied'), TODAY, LIMITS),
    [],
  );
});

test('two steps up are refused with the levels that are possible', () => {
  assert.equal(
    overrideProblems({ ...RAISE, level: 'wider-ground' }, at('accompanied'), TODAY, LIMITS)[0]?.message,
    'Level: choose one of Pause, Practise, Home ground.',
  );
});

test('where there is no level yet only a pause can be decided, with nothing but a reason', () => {
  const pause = { ...EMPTY_OVERRIDE, level: 'pause', reason: 'other', text: 'Ill today.' };
  assert.deepEqual(overrideProblems(pause, at('none'), TODAY, LIMITS), []);
  assert.equal(overrideProblems({ ...RAISE, level: 'practise' }, at('none'), TODAY, LIMITS)[0]?.message, 'Level: choose one of Pause.');
});

test('the event holds only what was filled in', () => {
  assert.deepEqual(overrideBody({ ...EMPTY_OVERRIDE, level: 'pause', reason: 'other', text: ' Ill. ' }, TODAY), {
    level: 'pause',
    reason: 'other',
    text: 'Ill.',
    from: TODAY,
  });
  assert.equal(addDays('2026-02-27', 28), '2026-03-27');
});
