import assert from 'node:assert/strict';
import { test } from 'node:test';
import { asked, chooseControlClass, EMPTY_CONTROL, formOfControl, readControl } from './control-form';

const filled = {
  ...EMPTY_CONTROL,
  name: ' Chin set A ',
  class: 'small',
  figures: { start_gf: '12', operate_gf: '50,5', travel_mm: '9' },
  sealing: 'ip 54',
  mounts: ['swing-away'],
  measured: '2026-03-02',
  measuredBy: 'M. Ashgrove',
};

test('a control is listed with what was typed and nothing else', () => {
  assert.deepEqual(readControl(filled, 'team-a'), {
    control: {
      team: 'team-a',
      name: 'Chin set A',
      class: 'small',
      start_gf: 12,
      operate_gf: 50.5,
      travel_mm: 9,
      sealing: 'IP54',
      power_jack: false,
      mode_jack: false,
      attendant: false,
      mounts: ['swing-away'],
      measured: '2026-03-02',
      measured_by: 'M. Ashgrove',
    },
  });
});

test('what was listed opens as it was typed', () => {
  const read = readControl(filled, 'team-a');
  assert.ok('control' in read);
  const form = formOfControl({ id: 'c', ref: 'r', by: 'p', at: '', pos: 1, ...read.control });
  assert.equal(form.figures.operate_gf, '50.5');
  assert.equal(form.figures.lever_mm, '');
  assert.ok(!asked.some((field) => (field.key as string) === 'lever_mm'));
  const old = { ...form, figures: { ...form.figures, lever_mm: '42' } };
  assert.deepEqual(readControl(old, 'team-a'), { control: { ...read.control, lever_mm: 42 } });
  assert.deepEqual(readControl(form, 'team-a'), read);
});

test('each wrong field says what was expected', () => {
  const cases: readonly (readonly [Partial<typeof filled>, string, RegExp])[] = [
    [{ name: ' ' }, 'name', /own name/],
    [{ class: '' }, 'class', /one kind/],
    [{ figures: { ...filled.figures, start_gf: '60' } }, 'start_gf', /at most the force for full command, 50\.5 gf, got 60/],
    [{ figures: { ...filled.figures, operate_gf: '1e3' } }, 'operate_gf', /Expected a number/],
    [{ figures: { ...filled.figures, travel_mm: '151' } }, 'travel_mm', /0 to 150 mm, got 151/],
    [{ sealing: 'splash' }, 'sealing', /IEC 60529/],
    [{ measured: '2026-02-30' }, 'measured', /a day that exists/],
  ];
  for (const [change, field, want] of cases) {
    const read = readControl({ ...filled, ...change }, 'team-a');
    assert.ok('errors' in read, field);
    assert.match(read.errors[field] ?? '', want);
  }
});

test('a class fills its usual figures but never what was measured', () => {
  const usual = (id: string) =>
    id === 'standard' ? { operate: '250', travel: '28' } : id === 'small' ? { operate: '50', travel: '' } : { operate: '', travel: '' };
  const first = chooseControlClass(EMPTY_CONTROL, 'standard', usual);
  assert.deepEqual([first.figures.operate_gf, first.figures.travel_mm], ['250', '28']);
  const second = chooseControlClass({ ...first, figures: { ...first.figures, operate_gf: '180' } }, 'small', usual);
  assert.deepEqual([second.figures.operate_gf, second.figures.travel_mm], ['180', '']);
});
