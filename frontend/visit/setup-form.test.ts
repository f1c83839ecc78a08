import assert from 'node:assert/strict';
import { test } from 'node:test';
import { chooseClass, formOf, readSetup, type SetupForm } from './setup-form';

const chosen: SetupForm = { ...formOf(undefined, 'gf'), class: 'small', site: 'chin', start: '20', operate: '50', travel: '12' };

test('a set-up is saved in gram-force and millimetres', () => {
  assert.deepEqual(readSetup(chosen, 'gf'), {
    setup: { class: 'small', site: 'chin', start_gf: 20, operate_gf: 50, travel_mm: 12, needed: ['forward', 'reverse', 'left', 'right'] },
  });
});

test('in a newton visit the form takes and shows newton', () => {
  const read = readSetup({ ...chosen, start: '0.2', operate: '0.49' }, 'N');
  assert.ok('setup' in read);
  assert.equal(read.setup.operate_gf, 49.966);
  assert.equal(formOf(read.setup, 'N').operate, '0.49');
});

test('the usual figures of a class fill only what nobody measured', () => {
  const light = chooseClass(formOf(undefined, 'gf'), 'very-light', 'gf');
  assert.deepEqual([light.operate, light.travel], ['10', '3']);
  const heavy = chooseClass(light, 'standard', 'gf');
  assert.deepEqual([heavy.operate, heavy.travel], ['250', '28']);
  assert.equal(chooseClass({ ...light, operate: '14' }, 'standard', 'gf').operate, '14');
});

test('each wrong field says what was expected', () => {
  const read = readSetup({ ...chosen, class: '', site: '', needed: [], operate: '12000', travel: 'long' }, 'gf');
  assert.ok('errors' in read);
  assert.deepEqual(Object.keys(read.errors).sort(), ['class', 'needed', 'operate', 'site', 'travel']);
  assert.equal(read.errors.operate, 'Expected 0 to 10000 gf, got 12000.');
});

test('a control cannot start at more than its full command', () => {
  const read = readSetup({ ...chosen, start: '60' }, 'gf');
  assert.ok('errors' in read);
  assert.match(read.errors.start ?? '', /at most the force for full command, 50 gf, got 60/);
});

test('only a shortened throw is kept, and directions stand in their own order', () => {
  const read = readSetup({ ...chosen, needed: ['right', 'forward'], throw: { forward: '100', right: '60' } }, 'gf');
  assert.ok('setup' in read);
  assert.deepEqual(read.setup.throw, { right: 60 });
  assert.deepEqual(read.setup.needed, ['forward', 'right']);
});
