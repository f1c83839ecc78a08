import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { Definition, VisitView } from '../../lib';
import { saying } from '../../ui/result/sample';
import { nextMissing } from './next-missing';

const item = (id: string) => ({ id, title: id, prompt: '', type: 'fit' as const, weight: 3 });
const checklist: Definition = {
  format: 'doorsill-checklist/1',
  id: 'test',
  version: '1',
  title: 'Test',
  help: [],
  sections: [
    { code: 'pos', title: 'Positioning', items: [item('pos-trunk'), item('pos-pelvis')] },
    { code: 'saf', title: 'Safety', items: [item('saf-stop')] },
  ],
};

function viewOf(...missing: readonly string[]): VisitView {
  const rows = missing.map((id) => ({ group: 'needed', item: id, message: saying(`${id}: not tested.`) }));
  return { visit: { id: 'v' }, checklist, result: { missing: rows } } as unknown as VisitView;
}

const at = (code: string, id = '') => `/visits/v/part/${code}${id === '' ? '' : `?item=${id}`}`;

test('what is missing on the screen comes before all else', () => {
  const view = viewOf('saf-stop', 'pos-trunk', 'pos-pelvis');
  assert.equal(nextMissing(view, at('pos'))?.href, at('pos', 'pos-trunk'));
  assert.equal(nextMissing(view, at('pos', 'pos-trunk'))?.href, at('pos', 'pos-pelvis'));
});

test('then the first of the list, and the thing that is shown is never the next', () => {
  const view = viewOf('saf-stop', 'pos-pelvis');
  assert.equal(nextMissing(view, at('pos', 'pos-pelvis'))?.href, at('saf', 'saf-stop'));
  assert.equal(nextMissing(view, '/visits/v')?.what, 'saf-stop');
  assert.equal(nextMissing(viewOf('saf-stop'), at('saf', 'saf-stop')), undefined);
  assert.equal(nextMissing(viewOf(), at('pos')), undefined);
});
