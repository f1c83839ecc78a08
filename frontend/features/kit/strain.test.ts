import assert from 'node:assert/strict';
import { test } from 'node:test';
import { quantityOf, saying } from '../../ui/result/sample';
import { SAMPLE } from './sample-result';
import { isBorrowed, loadGroups, looseFigures, weeksAfter } from './strain';

test('loads of one control at one site stand together', () => {
  const more = [
    { control: 'kit-light', site: 'chin', direction: 'left', share: 8, message: saying('A little.') },
    { control: 'kit-small', site: 'chin', direction: 'left', share: 75, message: saying('Much.') },
  ];
  assert.deepEqual(
    loadGroups({ ...SAMPLE, loads: [...(SAMPLE.loads ?? []), ...more] }).map((group) => [
      group.control,
      group.loads.map((load) => load.direction),
    ]),
    [
      ['kit-small', ['forward', 'left']],
      ['kit-light', ['left']],
    ],
  );
});

test('a number that was borrowed says so', () => {
  const figure = SAMPLE.loads?.[0]?.holding?.[0];
  assert.ok(figure);
  const [provenance] = SAMPLE.provenance ?? [];
  assert.equal(isBorrowed(figure, provenance), true);
  assert.equal(isBorrowed(figure, undefined), false);
  const curve = { code: 'endurance.hold-at-site', args: { match: { code: 'endurance.curve-borrowed' }, low: 3 } };
  assert.equal(isBorrowed({ ...figure, message: curve }, undefined), true);
});

test('strain figures without a direction are not lost', () => {
  const limits = [quantityOf('strain-index', '', 5.2, { site: 'thumb-left' }), quantityOf('reserve', '', 3)];
  assert.deepEqual(
    looseFigures({ ...SAMPLE, limits }).map((figure) => figure.value),
    [5.2],
  );
});

test('a recheck date counts whole weeks from the visit', () => {
  assert.equal(weeksAfter('2026-02-20T14:00:00Z', 6), '2026-04-03');
  assert.equal(weeksAfter('', 6), '');
});
