import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { Definition, VisitView } from '../../lib';
import type { MeasuredAnswer } from '../../lib/model.gen';
import { measuredAnswer } from './elsewhere';
import { offeredTogether } from './measured-together';

const item = (id: string) => ({ id, title: id, prompt: id, type: 'number', weight: 1 });
const checklist: Definition = {
  format: 'doorsill-checklist/2',
  id: 'c',
  version: '1',
  title: 'C',
  sections: [
    { code: 'mnt', title: 'Mounting', items: [item('mnt-clear'), item('mnt-rigid')] },
    { code: 'hom', title: 'Home', items: [item('hom-door')] },
    { code: 'pos', title: 'Positioning', items: [item('pos-head')] },
  ],
};
const [mounting, home, positioning] = checklist.sections as [
  Definition['sections'][0],
  Definition['sections'][0],
  Definition['sections'][0],
];
const found = (id: string, number: number) => ({ item: id, number }) as MeasuredAnswer;
const both = [found('mnt-clear', 6), found('hom-door', 120)];

function view(...answered: readonly string[]): VisitView {
  const answers = answered.map((id) => ({
    item: id,
    heads: [{ ref: 't:1', by: 'p', at: '', pos: 1, item: id, state: 'answered', number: 1 }],
  }));
  return { checklist, result: null, visit: { answers } } as unknown as VisitView;
}

test('what was measured is offered together in each part that asks for some of it', () => {
  for (const section of [mounting, home])
    assert.deepEqual(
      offeredTogether(view(), section, both).map((one) => one.item.id),
      ['mnt-clear', 'hom-door'],
    );
  assert.deepEqual(offeredTogether(view(), positioning, both), []);
});

test('an answer that somebody gave is left alone, and one by itself is taken at its item', () => {
  assert.deepEqual(offeredTogether(view('mnt-clear'), mounting, both), []);
  assert.deepEqual(offeredTogether(view('mnt-clear'), home, both), []);
});

test('what is taken keeps the note and what was said beside the item', () => {
  const shown = { item: 'mnt-clear', state: 'not-tested', note: 'with the sister', facts: { 'mount-before-face': false } };
  assert.deepEqual(measuredAnswer(found('mnt-clear', 6), shown), { ...shown, state: 'answered', number: 6 });
});
