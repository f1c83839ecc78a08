import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { Setup } from '../model.gen';
import { isInUse, withInUse } from './in-use';

const setup: Setup = {
  ref: 'tab-a:1',
  by: 'ann',
  at: '',
  pos: 1,
  class: 'small',
  control: 'Grey stick',
  site: 'chin',
  start_gf: 20,
  operate_gf: 50,
  travel_mm: 4,
  needed: ['forward'],
};
const named = { class: 'small', control: 'Grey stick' };

test('runs, readings of the control and answers about it name the control and site of the set-up', () => {
  assert.deepEqual(withInUse({ setup }, 'run-timed', { place: 'indoors' }), { place: 'indoors', ...named, site: 'chin' });
  for (const what of ['hold', 'release', 'unintended', 'command', 'stop-command', 'unasked', 'steps', 'breath'])
    assert.deepEqual(withInUse({ setup }, 'reading-taken', { what, site: 'chin' }), { what, site: 'chin', ...named });
  const pain = { item: 'ctl-pain', number: 2 };
  assert.deepEqual(withInUse({ setup }, 'answer-given', pain), { ...pain, ...named, site: 'chin' });
  // An answer that is given anew is about the control that is in use now.
  const old = { ...pain, class: 'standard', control: 'Old', site: 'hand-left' };
  assert.deepEqual(withInUse({ setup }, 'answer-given', old), { ...pain, ...named, site: 'chin' });
  const { control: _, ...nameless } = setup;
  assert.deepEqual(withInUse({ setup: nameless }, 'run-timed', {}), { class: 'small', site: 'chin' });
});

test('what is about the person, about another site or before a set-up names no control', () => {
  const force = { what: 'force', site: 'chin' };
  assert.equal(withInUse({ setup }, 'reading-taken', force), force);
  const elsewhere = { what: 'hold', site: 'hand-left' };
  assert.equal(withInUse({ setup }, 'reading-taken', elsewhere), elsewhere);
  const trunk = { item: 'pos-trunk' };
  assert.equal(withInUse({ setup }, 'answer-given', trunk), trunk);
  assert.deepEqual(withInUse({}, 'run-timed', { place: 'indoors' }), { place: 'indoors' });
});

test('an entry counts for the set-up unless it names another control, name or site', () => {
  assert.ok(isInUse({}, setup));
  assert.ok(isInUse({ class: 'small', site: 'chin' }, setup));
  assert.ok(isInUse({ class: 'standard' }, undefined));
  assert.ok(!isInUse({ class: 'standard' }, setup));
  assert.ok(!isInUse({ ...named, site: 'hand-left' }, setup));
  assert.ok(!isInUse({ class: 'small', control: 'Blue stick' }, setup));
});
