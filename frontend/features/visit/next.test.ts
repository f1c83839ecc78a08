import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { Definition } from '../../lib';
import type { Visit } from '../../lib/model.gen';
import { findItems, nextOpen, openItems } from './next';

const item = (id: string, title: string, from?: string) => ({
  id,
  title,
  prompt: `About ${title}.`,
  type: 'fit',
  weight: 1,
  ...(from ? { from } : {}),
});
const checklist: Definition = {
  format: 'doorsill-checklist/2',
  id: 'c',
  version: '1',
  title: 'C',
  sections: [
    { code: 'a', title: 'A', items: [item('a-1', 'Door ahead'), item('a-2', 'Far door'), item('a-3', 'Reserve', 'hold')] },
    { code: 'b', title: 'B', items: [item('b-1', 'Kerb'), item('b-2', 'Sill')] },
  ],
};

const stamp = { ref: 't:1', by: 'p', at: '', pos: 1 } as const;
function visit(...answered: readonly string[]): Visit {
  const answers = answered.map((id) => ({ item: id, heads: [{ ...stamp, item: id, state: 'answered', level: '3' }] }));
  return { answers } as unknown as Visit;
}
const next = (part: string, after: string, ...answered: readonly string[]) =>
  nextOpen(checklist, openItems(checklist, visit(...answered), null), part, after)?.item.id;

test('next missing goes down the part, back to what was passed over, then on to the next part and round', () => {
  assert.equal(next('a', ''), 'a-1');
  assert.equal(next('a', 'a-1', 'a-1'), 'a-2');
  assert.equal(next('a', 'a-2', 'a-2'), 'a-1', 'what was passed over in this part comes before the next part');
  assert.equal(next('a', 'a-2', 'a-1', 'a-2'), 'b-1', 'what is worked out is not asked');
  assert.equal(next('b', 'b-2', 'b-1', 'b-2'), 'a-1');
  assert.equal(next('b', 'a-1', 'a-1'), 'b-1', 'an answer in another part does not lead back there');
  assert.equal(next('b', 'b-2', 'a-1', 'a-2', 'b-1', 'b-2'), undefined);
});

test('an item is found by any of its words, its title first', () => {
  const found = (typed: string) => findItems(checklist, typed).map((one) => one.item.id);
  assert.deepEqual(found('door'), ['a-1', 'a-2']);
  assert.deepEqual(found('far DOOR'), ['a-2']);
  assert.deepEqual(found('about kerb'), ['b-1']);
  assert.deepEqual(found('window'), []);
  assert.equal(found('').length, 5, 'without a word all are there');
});
