import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { Signal } from '@preact/signals';
import { session, type Session } from '../../lib';
import { amendingReason, startAmending } from '../../lib/visit-writer';
import { newestOf, remember, undoSteps, type UndoStep } from './undo';

function step(visit: string, item: string): UndoStep {
  return { visit, item, title: item, before: { item, state: 'not-tested' } };
}

test('the last ten answers can be taken back, newest first', () => {
  let steps: readonly UndoStep[] = [];
  for (let n = 1; n <= 12; n += 1) steps = remember(steps, step('v', `i${n}`));
  assert.equal(steps.length, 10);
  assert.equal(steps[0]?.item, 'i3');
  assert.equal(newestOf(steps, 'v')?.item, 'i12');
});

test('another visit has its own undo', () => {
  const steps = [step('a', 'one'), step('b', 'two')];
  assert.equal(newestOf(steps, 'a')?.item, 'one');
  assert.equal(newestOf(steps, 'c'), undefined);
});

const signedIn = (id: string): Session => ({
  person: { id, name: id, credential: '' },
  teams: [],
  admin: false,
  tablet: 't',
  online: true,
});

test('what can be taken back and why a visit is amended leave with the person', () => {
  const open = session as Signal<Session | null>;
  for (const next of [null, signedIn('second')]) {
    open.value = signedIn('first');
    undoSteps.value = [step('v', 'one')];
    startAmending('v', 'a slip of the pen');
    open.value = { ...signedIn('first'), online: false };
    assert.deepEqual([undoSteps.value.length, amendingReason('v')], [1, 'a slip of the pen'], 'a renewed session is the same person’s');
    open.value = next;
    assert.deepEqual([undoSteps.value.length, amendingReason('v')], [0, undefined]);
  }
  open.value = null;
});
