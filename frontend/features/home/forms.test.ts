import assert from 'node:assert/strict';
import { test } from 'node:test';
import { placeKinds as recorded } from '../../lib/model.gen';
import { chairFormOf, chairWords, readChair } from './chair-form';
import { figuresOf, placeFormOf, placeKinds, readPlace } from './place-form';

const chair = { length_mm: 1150, width_mm: 650, drive: 'mid', ahead_mm: 575, clearance_mm: 50 };

test('a chair is read back as it was saved', () => {
  const form = chairFormOf({ ...chair, slope_deg: 8, chair_kg: 0 }, 40);
  assert.equal(form.figures.chair_kg, '', 'not known is blank, not 0');
  assert.deepEqual(readChair(form), { chair: { ...chair, slope_deg: 8, step_mm: 0, chair_kg: 0, person_kg: 0 } });
});

test('a new chair begins with the clearance that the engine names', () => {
  assert.equal(chairFormOf(undefined, 50).figures.clearance_mm, '50');
  assert.equal(chairFormOf(undefined, undefined).figures.clearance_mm, '');
});

test('each wrong figure of a chair says what was expected', () => {
  const form = chairFormOf(chair, undefined);
  const read = readChair({ drive: '', figures: { ...form.figures, length_mm: '115', width_mm: '', ahead_mm: '2100', chair_kg: 'heavy' } });
  assert.ok('errors' in read);
  assert.deepEqual(read.errors, {
    length_mm: 'Expected 400 to 2000 mm, got 115.',
    width_mm: 'Expected 400 to 900 mm, got nothing.',
    ahead_mm: 'Expected 1 to 2000 mm, got 2100.',
    chair_kg: 'Expected a number such as 12.5, got "heavy".',
    drive: 'Expected front, middle or rear, got nothing.',
  });
  const beyond = readChair({ drive: 'rear', figures: { ...form.figures, ahead_mm: '1200' } });
  assert.ok('errors' in beyond);
  assert.equal(beyond.errors.ahead_mm, 'Expected at most the length, 1150 mm, got 1200.');
});

test('a chair in words names only what was measured', () => {
  assert.equal(
    chairWords({ ...chair, ahead_mm: 0 }),
    '1150 mm long, 650 mm wide with control and hands; drive wheels middle; 50 mm wanted on each side.',
  );
  assert.match(
    chairWords({ ...chair, slope_deg: 6, step_mm: 40 }),
    /axle 575 mm behind the foremost point; 50 mm wanted on each side; slopes up to 6 degrees, steps up to 40 mm\.$/,
  );
});

test('the form knows every kind of place that can be recorded', () => {
  assert.deepEqual(
    placeKinds.map((kind) => kind.id),
    [...recorded],
  );
});

test('a place keeps only the figures of its kind', () => {
  const form = {
    kind: 'corner',
    name: ' Hall ',
    leadsTo: ' the kitchen ',
    needed: true,
    figures: { corridor_mm: '900', corridor2_mm: '1000', width_mm: '800' },
  };
  assert.deepEqual(readPlace(form, 'p1'), {
    place: { place: 'p1', kind: 'corner', name: 'Hall', corridor_mm: 900, corridor2_mm: 1000, leads_to: 'the kitchen' },
  });
});

test('a place without a name is called by its kind; a figure may be missing', () => {
  const read = readPlace({ kind: 'ramp', name: '', leadsTo: '', needed: false, figures: { rise_mm: '150', run_mm: '1800' } }, 'p2');
  assert.deepEqual(read, { place: { place: 'p2', kind: 'ramp', name: 'Ramp', rise_mm: 150, run_mm: 1800, not_needed: true } });
  assert.ok('place' in read);
  assert.deepEqual(figuresOf(read.place), [
    { label: 'Rise', value: '150 mm' },
    { label: 'Run', value: '1800 mm' },
    { label: 'Clear width', value: 'not measured' },
    { label: 'Landing', value: 'not measured' },
  ]);
  assert.equal(placeFormOf(read.place).figures.width_mm, '');
  assert.equal(placeFormOf(read.place).needed, false);
  assert.equal(placeFormOf(undefined).needed, true, 'a way is needed until somebody says that it is not');
});

test('a place without any figure, or with an impossible one, is not saved', () => {
  assert.deepEqual(readPlace({ ...placeFormOf(undefined), figures: {} }, 'p'), {
    errors: { width_mm: 'Expected at least one figure, got none.' },
  });
  assert.deepEqual(readPlace({ ...placeFormOf(undefined), figures: { width_mm: '80' } }, 'p'), {
    errors: { width_mm: 'Expected 400 to 2000 mm, got 80.' },
  });
});
