import assert from 'node:assert/strict';
import { test } from 'node:test';
import { remember, takeBack, type UndoStep } from './undo';

function step(visit: string, item: string): UndoStep {
  return { visit, item, title: item, before: { item, state: 'not-tested' } };
}

test('the last ten answers can be taken back, newest first', () => {
  let steps: readonly UndoStep[] = [];
  for (let n = 1; n <= 12; n += 1) steps = remember(steps, step('v', `i${n}`));
  assert.equal(steps.length, 10);
  const { step: last, rest } = takeBack(steps, 'v');
  assert.equal(last?.item, 'i12');
  assert.equal(takeBack(rest, 'v').step?.item, 'i11');
});

test('another visit has its own undo', () => {
  const steps = [step('a', 'one'), step('b', 'two')];
  assert.equal(takeBack(steps, 'a').step?.item, 'one');
  assert.equal(takeBack(steps, 'c').step, undefined);
  assert.equal(takeBack(steps, 'c').rest.length, 2);
});
