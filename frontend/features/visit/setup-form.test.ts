import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';
import { classes } from '../../ui/control-classes';
import type { Judge } from '../../ui/judge';
import { saying } from '../../ui/result/sample';
import type { SetupChosen } from '../../lib/model.gen';
import { chooseClass, chooseFromKit, classText, figuresFor, formOf, readSetup, type SetupForm } from './setup-form';

const limits = new Map([
  ['class-standard-force', 250],
  ['class-standard-travel', 28],
  ['class-very-light-force', 10],
  ['class-very-light-travel', 3],
]);

/** Reckons with 100 gf to a newton, so that nobody takes it for the engine's own number. */
const engine: Judge = {
  plausible: async ({ what, value, unit }) => {
    const most = what === 'travel' ? 150 : unit === 'N' ? 100 : 10_000;
    return value > most ? { verdict: 'refuse', message: saying(`The limit is ${most} ${unit}.`) } : { verdict: 'ok' };
  },
  convert: async (values, from, to) => values.map((value) => (from === to ? value : from === 'N' ? value * 100 : value / 100)),
};

const figures = await figuresFor(undefined, 'gf', limits, engine.convert);
const chosen: SetupForm = { ...formOf(undefined, figures), class: 'small', site: 'chin', start: '20', operate: '50', travel: '12' };

test('a set-up is saved in gram-force and millimetres', async () => {
  assert.deepEqual(await readSetup(chosen, 'gf', engine), {
    setup: { class: 'small', site: 'chin', start_gf: 20, operate_gf: 50, travel_mm: 12, needed: ['forward', 'reverse', 'left', 'right'] },
  });
});

// What the form did not carry would be gone from the visit at the next save.
test('what was saved is shown and saved again, field by field', async () => {
  const saved: Required<SetupChosen> = {
    class: 'breath',
    control: 'left one',
    site: 'chin',
    start_gf: 4,
    operate_gf: 50,
    travel_mm: 9,
    throw: { left: 60 },
    needed: ['forward', 'left'],
    switch_press_gf: 80,
    power_press_gf: 81,
    mode_press_gf: 82,
    stop_press_gf: 83,
    drive_mode: 'latched',
    separate_stop: true,
    breath_kpa: 2.5,
    place: 'kitchen',
    window: 'mornings',
  };
  const form = formOf(saved, await figuresFor(saved, 'gf', limits, engine.convert));
  assert.deepEqual(await readSetup(form, 'gf', engine), { setup: saved });
  const screen = readFileSync('frontend/features/visit/setup-screen.tsx', 'utf8');
  for (const field of Object.keys(form)) assert.match(screen, new RegExp(`form\\.${field}\\b`), `setup-screen.tsx asks for ${field}`);
});

test('in a newton visit the form takes and shows newton, as the engine converts it', async () => {
  const read = await readSetup({ ...chosen, start: '0.2', operate: '0.49' }, 'N', engine);
  assert.ok('setup' in read);
  assert.equal(read.setup.operate_gf, 49);
  const shown = await figuresFor(read.setup, 'N', limits, engine.convert);
  assert.equal(formOf(read.setup, shown).operate, '0.49');
  assert.equal(formOf(read.setup, shown).switchPress, '');
});

test('the usual figures of a class fill only what nobody measured', () => {
  const light = chooseClass(formOf(undefined, figures), 'very-light', figures.usual);
  assert.deepEqual([light.operate, light.travel], ['10', '3']);
  const heavy = chooseClass(light, 'standard', figures.usual);
  assert.deepEqual([heavy.operate, heavy.travel], ['250', '28']);
  assert.equal(chooseClass({ ...light, operate: '14' }, 'standard', figures.usual).operate, '14');
  assert.equal(chooseClass(light, 'breath', figures.usual).operate, '');
});

test('a class is listed with the range of force that it stands for, and no figure of its own', () => {
  const [standard, small, light, sensing] = classes;
  assert.ok(standard && small && light && sensing);
  const ranges = new Map([
    ['light-control', 15],
    ['rough-heavy', 80],
  ]);
  assert.equal(classText(standard, ranges), `More than 80 gf to full command. ${standard.text}`);
  assert.equal(classText(small, ranges), `More than 15 and up to 80 gf. ${small.text}`);
  assert.equal(classText(light, ranges), `Up to 15 gf. ${light.text}`);
  assert.equal(classText(sensing, ranges), sensing.text);
  assert.equal(classText(standard, new Map()), standard.text);
});

test('a control of the kit fills in its own figures and its name, in the unit of the visit', async () => {
  const packed = {
    id: 'k1',
    name: 'Grey stick',
    class: 'small',
    start_gf: 20,
    operate_gf: 48,
    travel_mm: 4,
    power_jack: true,
    mode_jack: true,
    attendant: false,
  };
  const { kit } = await figuresFor(undefined, 'N', limits, engine.convert, [packed]);
  assert.ok(kit[0]);
  const form = chooseFromKit({ ...chosen, place: 'hall' }, kit[0]);
  assert.deepEqual(
    [form.class, form.control, form.start, form.operate, form.travel, form.place],
    ['small', 'Grey stick', '0.2', '0.48', '4', 'hall'],
  );
});

test('how a control drives, a separate stop and the pressure of breath are saved when they are known', async () => {
  const read = await readSetup({ ...chosen, driveMode: 'latched', separateStop: true, breath: '2.5' }, 'gf', engine);
  assert.ok('setup' in read);
  assert.deepEqual([read.setup.drive_mode, read.setup.separate_stop, read.setup.breath_kpa], ['latched', true, 2.5]);
  const shown = formOf(read.setup, figures);
  assert.deepEqual([shown.driveMode, shown.separateStop, shown.breath], ['latched', true, '2.5']);
  const wrong = await readSetup({ ...chosen, breath: '51' }, 'gf', engine);
  assert.ok('errors' in wrong && wrong.errors.breath === 'Expected 0 to 50 kPa, got 51.');
});

test('each wrong field says what was expected', async () => {
  const read = await readSetup({ ...chosen, class: '', needed: [], operate: '12000', travel: 'long' }, 'gf', engine);
  assert.ok('errors' in read);
  assert.deepEqual(Object.keys(read.errors).sort(), ['class', 'needed', 'operate', 'travel']);
  assert.equal(read.errors.operate, 'The limit is 10000 gf.');
  const without = await readSetup({ ...chosen, site: '' }, 'gf', engine);
  assert.ok('errors' in without && without.errors.site);
});

test('a control cannot start at more than its full command', async () => {
  const read = await readSetup({ ...chosen, start: '60' }, 'gf', engine);
  assert.ok('errors' in read);
  assert.match(read.errors.start ?? '', /at most the force for full command, 50 gf, got 60/);
});

test('only a shortened throw is kept, and directions stand in their own order', async () => {
  const read = await readSetup({ ...chosen, needed: ['right', 'forward'], throw: { forward: '100', right: '60' } }, 'gf', engine);
  assert.ok('setup' in read);
  assert.deepEqual(read.setup.throw, { right: 60 });
  assert.deepEqual(read.setup.needed, ['forward', 'right']);
});

test('a switch keeps a force of its own beside the one for both', async () => {
  const read = await readSetup({ ...chosen, switchPress: '30', modePress: '90' }, 'gf', engine);
  assert.ok('setup' in read);
  assert.deepEqual([read.setup.switch_press_gf, read.setup.power_press_gf, read.setup.mode_press_gf], [30, undefined, 90]);
  assert.equal(formOf(read.setup, await figuresFor(read.setup, 'gf', limits, engine.convert)).modePress, '90');
  const wrong = await readSetup({ ...chosen, powerPress: '20000' }, 'gf', engine);
  assert.ok('errors' in wrong && wrong.errors.powerPress);
});
