import assert from 'node:assert/strict';
import { test } from 'node:test';
import { createOpenVisit } from './open-visit';

type Shown = Parameters<ReturnType<typeof createOpenVisit>['show']>;

const folded = { type: 'visit', visit: { id: 'v1' }, definition: {}, result: { by: 'tablet' } } as unknown as Shown[0];
const server = { result: { by: 'server' }, differs: true } as unknown as Shown[1];

test('a touch draws a visit anew only where it does not say yet that its result is provisional', () => {
  const open = createOpenVisit();
  open.show(folded, server);
  assert.deepEqual([open.view.value?.provisional, open.view.value?.differs], [false, true]);
  open.behind();
  const first = open.view.value;
  assert.deepEqual([first?.provisional, first?.differs], [true, false]);
  open.behind();
  assert.equal(open.view.value, first);
});

test('what cannot be shown is of no result, also of none that differed', () => {
  const open = createOpenVisit();
  open.show(folded, server);
  open.failed(new Error('stopped'));
  const failed = open.view.value;
  assert.deepEqual([failed?.result, failed?.provisional, failed?.differs], [null, true, false]);
  open.behind();
  assert.equal(open.view.value, failed);
});
