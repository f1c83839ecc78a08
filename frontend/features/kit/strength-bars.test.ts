import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { PackedControl } from '../../lib/model.gen';
import { comparable } from './compare';
import { SAMPLE } from './sample-result';
import { barsAt, forcesOn, needLines } from './strength-bars';

const { quantities: figures } = SAMPLE;
const measured = (id: string, operate_gf: number) =>
  comparable({
    id,
    name: id,
    class: 'small',
    start_gf: 0,
    operate_gf,
    travel_mm: 0,
    power_jack: false,
    mode_jack: false,
    attendant: false,
  } as PackedControl);
const controls = [measured('a', 250), measured('b', 50)];

test('each direction has its rested and tired mean; what was not measured is no zero', () => {
  assert.deepEqual(barsAt(figures, 'chin', ['forward', 'left']), [
    { direction: 'forward', needed: true, rested: 150, tired: 120 },
    { direction: 'reverse', needed: false, rested: null, tired: null },
    { direction: 'left', needed: true, rested: 95, tired: null },
    { direction: 'right', needed: false, rested: null, tired: null },
  ]);
});

test('a control is drawn at once, twice and three times its force', () => {
  assert.deepEqual(
    needLines(controls, [2, 3]).map((line) => line.force),
    [250, 500, 750, 50, 100, 150],
  );
});

test('only forces above nothing set the scale', () => {
  assert.deepEqual(forcesOn(barsAt(figures, 'chin', []), needLines(controls.slice(1), []), [0, 12]), [150, 120, 95, 50, 12]);
});
