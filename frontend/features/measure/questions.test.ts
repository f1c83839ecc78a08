import assert from 'node:assert/strict';
import { test } from 'node:test';
import { formDrafts } from '../../lib/form-drafts';
import type { Reading } from '../../lib/model.gen';
import { askAbout, openQuestions, settle } from './questions';

const reading = (ref: string, value: number, slip = ''): Reading => ({
  ref,
  by: 'x',
  at: '',
  pos: 0,
  what: 'force',
  site: 'lip',
  direction: 'left',
  state: 'rested',
  supported: false,
  value,
  unit: 'gf',
  slip,
});

const about = (ref: string) => ({ ref, slot: 'left', value: 2500, sentence: '2500?', suggestion: 250 });
const refs = (visit: Parameters<typeof openQuestions>[0], what = 'force') => openQuestions(visit, what).map((one) => one.ref);

test('a question is a draft of its visit, which is there again after a reload, until it is answered', () => {
  const visit = { id: 'v', readings: [reading('a:1', 2500), reading('a:2', 2600)] };
  askAbout('v', 'force', about('a:1'));
  askAbout('v', 'force', about('a:2'));
  const draft = formDrafts.of('v').value['questions force'];
  assert.deepEqual(draft?.value, [about('a:1'), about('a:2')]);
  assert.equal(draft?.title, undefined, 'the reading is saved: nothing is said to be left unsaved');
  assert.deepEqual(refs(visit), ['a:1', 'a:2']);
  assert.deepEqual([refs(visit, 'travel'), refs({ ...visit, id: 'w' })], [[], []]);
  settle('v', 'force', 'a:1');
  assert.deepEqual(refs(visit), ['a:2']);
  settle('v', 'force', 'a:2');
  assert.equal(formDrafts.of('v').value['questions force'], undefined, 'and nothing stays on the disk');
});

test('of a reading that was set aside nothing is asked any more', () => {
  askAbout('x', 'force', about('a:1'));
  assert.deepEqual(refs({ id: 'x', readings: [reading('a:1', 2500, 'slid')] }), []);
  assert.deepEqual(refs({ id: 'x', readings: [reading('a:1', 2500)] }), ['a:1'], 'taken back in, it is asked again');
});
