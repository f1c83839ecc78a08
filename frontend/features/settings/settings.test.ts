import assert from 'node:assert/strict';
import { test } from 'node:test';
import { keyLabel, keyWords, problemWords, valueWords } from '../../ui/setting-words';
import { problems, settingKeys, type MountNoted, type Visit } from '../../lib/model.gen';
import { angleFields, clearingTimed, gapFields, mountFormOf, placeFields, readMount, sheetWords } from './mount-form';
import { chooseKey, emptySetting, readSetting } from './setting-form';

test('every key and problem of the record has words', () => {
  assert.deepEqual(Object.keys(keyWords), [...settingKeys]);
  assert.deepEqual(Object.keys(problemWords), [...problems]);
  assert.equal(keyLabel('from-a-newer-app'), 'from-a-newer-app');
});

const change = { ...emptySetting, key: 'decel', before: '40', after: '45', problem: 'long-stop', why: 'Rolled on 1.4 m.' };

test('one change is saved with what was said and nothing else', () => {
  assert.deepEqual(readSetting(change), {
    setting: { key: 'decel', before: '40', after: '45', unit: '%', problem: 'long-stop', why: 'Rolled on 1.4 m.' },
  });
});

test('a change without a reason, or that changes nothing, is not saved', () => {
  const read = readSetting({ ...change, key: '', after: ' 40 ', why: ' ' });
  assert.ok('errors' in read);
  assert.deepEqual(Object.keys(read.errors), ['key', 'after', 'why']);
});

test('a value outside its range is refused, in the words of the unit; a maker’s word is not', () => {
  const tooFar = readSetting({ ...change, key: 'throw_left', before: '100', after: '10' });
  assert.ok('errors' in tooFar);
  assert.equal(tooFar.errors.after, 'Expected 20 to 100 %, got 10.');
  assert.ok('setting' in readSetting({ ...change, key: 'tracking', unit: '', before: 'off', after: 'on' }));
});

test('the next change of a key begins where the last one ended', () => {
  const first = { key: 'decel', before: '40', after: '45', unit: '%', why: 'x' };
  assert.deepEqual(chooseKey(emptySetting, 'decel', [first]).before, '45');
  assert.deepEqual(chooseKey({ ...emptySetting, profile: 'outdoors' }, 'decel', [first]).before, '');
  assert.equal(chooseKey(emptySetting, 'axis_rotation', []).unit, 'deg');
  assert.equal(valueWords('20', 'deg'), '20 degrees');
  assert.equal(valueWords('on', undefined), 'on');
});

const mount = {
  kind: 'swing-away',
  fixed_to: 'back',
  forward_mm: 320,
  up_mm: 610,
  side_mm: -40,
  pitch_deg: -12.5,
  roll_deg: 0,
  yaw_deg: 0,
  gap_mm: 8,
  clear_s: 2.5,
  index: true,
  tilt: true,
  recline: false,
  transfer: true,
  collision: true,
  note: 'Invented.',
};

test('a mounting sheet is read back as it was saved, with what lies left of the midline', () => {
  const form = mountFormOf(mount);
  assert.deepEqual([form.figures.side_mm, form.figures.roll_deg], ['-40', '']);
  assert.deepEqual(readMount(form), { mount });
});

test('a mounting without its three coordinates is not saved', () => {
  const read = readMount(mountFormOf(undefined));
  assert.ok('errors' in read);
  assert.deepEqual(Object.keys(read.errors).sort(), ['fixed_to', 'forward_mm', 'gap_mm', 'kind', 'side_mm', 'up_mm']);
});

test('the sheet shows the clearing that was timed at its question, and both where they differ', () => {
  const answers = (...numbers: readonly number[]) =>
    ({
      answers: [{ item: 'mnt-clear', heads: numbers.map((number) => ({ item: 'mnt-clear', state: 'answered', number })) }],
    }) as unknown as Visit;
  const clear = gapFields.find((field) => field.key === 'clear_s');
  assert.ok(clear);
  const sheet = (clear_s: number | undefined, visit: Visit) => sheetWords(clear, { clear_s } as MountNoted, clearingTimed(visit));
  assert.equal(sheet(undefined, answers(6.5)), '6.5 s, at its question');
  assert.equal(sheet(8, answers(6.5)), '8 s; 6.5 s, at its question');
  assert.equal(sheet(6.5, answers(6.5)), '6.5 s');
  assert.equal(sheet(undefined, answers()), 'not timed');
  assert.equal(sheet(undefined, answers(6, 9)), 'not timed', 'two that wait for a choice are no time yet');
});

test('a figure below zero says where it lies, and has no sign', () => {
  const turned = { side_mm: -40, up_mm: -12, pitch_deg: -10.5, yaw_deg: 5 } as MountNoted;
  const said = [...placeFields, ...angleFields]
    .filter(({ key }) => turned[key] !== undefined)
    .map((field) => sheetWords(field, turned, undefined));
  assert.deepEqual(said, ['−12 mm', '40 mm to the left', '10.5 degrees back', '5 degrees']);
});
