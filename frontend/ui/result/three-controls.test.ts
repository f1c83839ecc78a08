import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { Choice, Visit } from '../../lib/model.gen';
import { choiceOf, resultWith } from './sample';
import { controlOf, inUse, threeControls } from './three-controls';

const visit = {
  setup: { control: 'Feather', class: 'very-light', site: 'chin' },
  kit: [
    { id: 'a', class: 'very-light', name: 'Feather' },
    { id: 'b', class: 'standard', name: 'Firm' },
  ],
} as unknown as Visit;

const choice = (control: string, reserve: number | undefined, more: Partial<Choice> = {}) =>
  choiceOf(control, { ...(reserve === undefined ? {} : { reserve }), ...more });

const named = (choices: readonly Choice[]) => threeControls(resultWith({ choices }), visit).map((one) => `${one.control} ${one.site}`);

test('first choice, the one in use and the fallback come before the order of choice', () => {
  assert.deepEqual(
    named([
      choice('c', 20, { rank: 3 }),
      choice('d', 9, { rank: 2, role: 'fallback' }),
      choice('a', 1.5),
      choice('e', 4, { rank: 1, role: 'main' }),
    ]),
    ['e chin', 'a chin', 'd chin'],
  );
});

test('of what has no place in the order this site comes first, then what leaves most', () => {
  assert.deepEqual(named([choice('c', 3), choice('d', 30, { site: 'lip' }), choice('e', 5), choice('f', 4)]), [
    'e chin',
    'f chin',
    'c chin',
  ]);
  assert.deepEqual(named([choice('c', 3), choice('d', 30, { site: 'lip' }), choice('e', 1, { site: 'lip', rank: 2 })]), [
    'e lip',
    'c chin',
    'd lip',
  ]);
});

test('what has no figure has no bar, also when it is in use', () => {
  assert.deepEqual(named([choice('a', undefined), choice('c', 0)]), ['c chin']);
});

test('a control is in use at its own site alone, by name from the kit and by class where none is named', () => {
  assert.equal(inUse(choice('a', 1), visit), true);
  assert.equal(inUse(choice('a', 1, { site: 'lip' }), visit), false);
  assert.equal(inUse(choice('b', 1), visit), false);
  assert.equal(inUse(choice('class:very-light', 1), visit), false, 'the visit names a control of the kit');
  const plain = { ...visit, setup: { control: '', class: 'very-light', site: 'chin' } } as unknown as Visit;
  assert.equal(inUse(choice('class:very-light', 1), plain), true);
  assert.equal(inUse(choice('class:standard', 1), plain), false);
  assert.equal(inUse(choice('a', 1), { kit: visit.kit } as Visit), false, 'nothing is in use before it is chosen');
});

test('a control that is no longer packed is said to be so', () => {
  assert.deepEqual(controlOf(choice('gone', 1), visit), { kind: '', name: 'A control that is no longer packed' });
  assert.deepEqual(controlOf(choice('b', 1), visit), { kind: 'standard', name: 'Firm' });
});
