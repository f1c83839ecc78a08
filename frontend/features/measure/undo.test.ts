import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { Reading } from '../../lib/model.gen';
import { forgetStep, movedTo, rememberStep, setAside, stepsOf, takeBackIn } from './undo';

const reading: Reading = {
  ref: 'a:7',
  by: 'x',
  at: '',
  pos: 0,
  what: 'switch-force',
  site: 'chin',
  direction: 'press',
  switch: 'mode',
  state: 'rested',
  supported: false,
  value: 62,
  unit: 'gf',
  note: 'slowly',
};

test('a move changes what it names and keeps the rest of the place, so that another leads back', () => {
  assert.deepEqual(movedTo(reading, { state: 'tired' }).body, {
    reading: 'a:7',
    direction: 'press',
    switch: 'mode',
    state: 'tired',
    supported: false,
    note: 'slowly',
  });
  assert.deepEqual(movedTo(reading, { switch: '' }).body, {
    reading: 'a:7',
    direction: 'press',
    state: 'rested',
    supported: false,
    note: 'slowly',
  });
  assert.deepEqual(movedTo(reading, {}).body, {
    reading: 'a:7',
    direction: 'press',
    switch: 'mode',
    state: 'rested',
    supported: false,
    note: 'slowly',
  });
});

test('steps are of one visit and one kind of reading, the newest last, and each is forgotten by itself', () => {
  const one = { words: '90', slot: 'left', corrections: [setAside('a:1', 'Undone')] };
  const two = { words: '92', slot: 'left', corrections: [takeBackIn('a:2')] };
  rememberStep('v', 'force', one);
  rememberStep('v', 'force', two);
  rememberStep('v', 'travel', one);
  assert.deepEqual(stepsOf('v', 'force'), [one, two]);
  forgetStep('v', 'force', two);
  assert.deepEqual([stepsOf('v', 'force'), stepsOf('v', 'travel'), stepsOf('w', 'force')], [[one], [one], []]);
});
