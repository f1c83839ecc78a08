import assert from 'node:assert/strict';
import { test } from 'node:test';
import { quantityOf } from '../../ui/result/sample';
import { comparable, genericControls, hasFigures, knowsTravel, reachOf, within, type Reach } from './compare';

const figures = [
  quantityOf('usable', 'forward', 120),
  quantityOf('usable', 'left', 80, { origin: 'assumed' }),
  quantityOf('usable', 'right', 95),
  quantityOf('usable', 'reverse', undefined),
  quantityOf('travel', 'forward', 14, { unit: 'mm' }),
  quantityOf('travel', 'left', 9, { unit: 'mm' }),
  quantityOf('travel', 'right', 11, { unit: 'mm' }),
];

test('the area is that of the weakest needed direction', () => {
  const reach = reachOf(figures, 'chin', ['forward', 'left', 'right']);
  assert.deepEqual(reach, { site: 'chin', force: 80, travel: 9, forceDirection: 'left', travelDirection: 'left', assumed: true });
});

test('a needed direction that was not measured leaves no area', () => {
  assert.equal(reachOf(figures, 'chin', ['forward', 'reverse']), null);
  assert.equal(reachOf(figures, 'thumb-left', ['forward']), null);
});

test('a control lies inside, beyond force, beyond travel, or cannot be placed', () => {
  const reach = reachOf(figures, 'chin', ['forward', 'left', 'right']) as Reach;
  const control = (operate_gf: number, travel_mm: number, kind = 'small') =>
    comparable({
      id: 'a',
      name: 'A',
      class: kind,
      start_gf: 0,
      operate_gf,
      travel_mm,
      power_jack: false,
      mode_jack: false,
      attendant: false,
    });
  const cases: readonly (readonly [number, number, string, string])[] = [
    [50, 8, 'small', 'inside'],
    [250, 8, 'small', 'force'],
    [50, 28, 'small', 'travel'],
    [250, 28, 'standard', 'both'],
    [50, 0, 'small', 'unknown'],
    [50, 0, 'force-sensing', 'inside'],
    [0, 0, 'breath', 'unknown'],
  ];
  for (const [force, travel, kind, want] of cases)
    assert.equal(within(control(force, travel, kind), reach), want, `${force} gf ${travel} mm ${kind}`);
});

test('kinds in general are ranges by the engine’s limits, without a figure to draw', () => {
  const some = genericControls(
    new Map([
      ['light-control', 15],
      ['rough-heavy', 80],
    ]),
  );
  assert.deepEqual(
    some.map((one) => [one.id, one.range, hasFigures(one), knowsTravel(one)]),
    [
      ['class:standard', 'more than 80 gf', false, false],
      ['class:small', 'more than 15, up to 80 gf', false, false],
      ['class:very-light', 'up to 15 gf', false, false],
    ],
  );
  assert.deepEqual(genericControls(null), []);
});
