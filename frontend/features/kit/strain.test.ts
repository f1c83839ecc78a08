import assert from 'node:assert/strict';
import { test } from 'node:test';
import { parseResult } from '../../lib/engine/result';
import { SAMPLE } from './sample-result';
import { isBorrowed, loadGroups, looseFigures, weeksAfter } from './strain';

test('loads of one control at one site stand together', () => {
  const more = `${SAMPLE}load\tkit-light\tchin\tleft\t8\tA little.\nload\tkit-small\tchin\tleft\t75\tMuch.\n`;
  assert.deepEqual(
    loadGroups(parseResult(more)).map((group) => [group.control, group.loads.map((load) => load.direction)]),
    [
      ['kit-small', ['forward', 'left']],
      ['kit-light', ['left']],
    ],
  );
});

test('a number that was borrowed says so', () => {
  const result = parseResult(SAMPLE);
  const figure = result.loads[0]?.figures[0];
  assert.ok(figure);
  assert.equal(isBorrowed(figure, result.bases.get(figure.name)), true);
  assert.equal(isBorrowed(figure, undefined), false);
});

test('strain figures without a direction are not lost', () => {
  const result = parseResult(`${SAMPLE}figure\tstrain-index\tthumb-left\t-\t5.2\t-\tmeasured\t\n`);
  assert.deepEqual(
    looseFigures(result).map((figure) => figure.value),
    ['5.2'],
  );
});

test('a recheck date counts whole weeks from the visit', () => {
  assert.equal(weeksAfter('2026-02-20T14:00:00Z', 6), '2026-04-03');
  assert.equal(weeksAfter('', 6), '');
});
