import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { RoseArm } from '../../lib/model.gen';
import { BANK, bankParts, type BankParts } from './bank';
import { inside, overlap } from './layout';

const one = (value: number) => ({ count: 3, value, low: value / 2, high: value, apart: true });
const parts = (arms: readonly RoseArm[]): BankParts => bankParts({ unit: 'gf', arms }, { chosen: 'both', words: (id) => id, wanted: 3 });
const topOf = (drawn: BankParts, i: number, of: string) => drawn.columns[i]?.bars.find((bar) => bar.of === of)?.top ?? Number.NaN;

test('more force is a higher column, and a line stands where a column of the same force ends', () => {
  const drawn = parts([
    { id: 'both', needed: true, asked: 30, plenty: 90, rested: one(90), tired: one(30) },
    { id: 'stop', rested: one(8) },
    { id: 'mode', rested: one(2000) },
  ]);
  assert.ok(topOf(drawn, 2, 'rested') < topOf(drawn, 0, 'rested') && topOf(drawn, 0, 'rested') < topOf(drawn, 1, 'rested'));
  assert.equal(drawn.columns[0]?.asked, topOf(drawn, 0, 'tired'));
  assert.equal(drawn.columns[0]?.plenty, topOf(drawn, 0, 'rested'));
  assert.deepEqual(
    drawn.columns.map((column) => column.pale),
    [false, true, true],
  );
  assert.deepEqual(
    drawn.columns[0]?.bars.map((bar) => bar.of),
    ['rested', 'tired'],
  );
});

test('no words of a column cover others or leave the drawing, at any force', () => {
  const extremes = [0, 2, 8, 30, 120, 640, 2000];
  for (const rested of extremes) {
    for (const tired of extremes) {
      const arm = { needed: true, asked: 30, plenty: 90, rested: one(rested), tired: one(tired), usable: tired, short: true };
      const drawn = parts(['both', 'power', 'mode', 'stop'].map((id) => ({ ...arm, id })));
      const boxes = drawn.columns.flatMap((column) =>
        [column.figure, column.pill, column.askedLabel, column.apart].filter((box) => box !== null),
      );
      for (const [i, box] of boxes.entries()) {
        assert.ok(inside(box, BANK.wide, BANK.high), `${box.text} at ${rested} and ${tired}`);
        for (const other of boxes.slice(i + 1)) assert.ok(!overlap(box, other), `${box.text} over ${other.text} at ${rested} and ${tired}`);
      }
      assert.ok(
        drawn.columns.every((column) => column.figure && column.pill),
        `figures at ${rested} and ${tired}`,
      );
    }
  }
});
