import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { Definition, Item, VisitCard } from '../../lib';
import type { Given, Visit } from '../../lib/model.gen';
import { isAsOffered, offerOf, visitBefore } from './last-visit';

const checklist = { help: [{ level: '4', name: 'Alone', text: '' }], sections: [] } as unknown as Definition;
const level: Item = {
  id: 'x',
  title: 'X',
  prompt: '',
  type: 'fit',
  weight: 1,
  levels: [
    { level: '3', text: 'good' },
    { level: '0', text: 'bad' },
  ],
  asks: [{ fact: 'f', prompt: '?' }],
};
const count: Item = { id: 'x', title: 'X', prompt: '', type: 'count', weight: 1, of: 10, sides: true };
const given = (part: Partial<Given>): Visit =>
  ({
    answers: [{ item: 'x', heads: [{ ref: 't:1', by: 'p', at: '', pos: 1, item: 'x', state: 'answered', ...part }] }],
  }) as unknown as Visit;

test('what stood is offered as it can be given today, marked and without its note', () => {
  const offer = offerOf(level, checklist, given({ level: '3', note: 'that day', facts: { f: true, gone: true } }));
  assert.deepEqual(offer, { item: 'x', state: 'answered', level: '3', facts: { f: true }, method: 'as-last-visit' });
  assert.equal(offerOf(level, checklist, given({ level: '2' })), undefined, 'a level that the item no longer has');
  assert.equal(offerOf(level, checklist, given({ level: '3', due: true })), undefined, 'an answer that had to be given anew');
  assert.equal(offerOf({ ...level, from: 'hold' }, checklist, given({ facts: { f: true } })), undefined, 'a computed item');
  assert.equal(offerOf(level, checklist, given({ state: 'not-tested' })), undefined);
  const { heads } = given({ level: '3' }).answers[0] ?? { heads: [] };
  assert.equal(
    offerOf(level, checklist, { answers: [{ item: 'x', heads: [...heads, ...heads] }] } as unknown as Visit),
    undefined,
    'two answers that wait for a choice',
  );
});

test('numbers and reasons are offered where the item still takes them', () => {
  assert.deepEqual(offerOf(count, checklist, given({ left: 5, right: 4 })), {
    item: 'x',
    state: 'answered',
    left: 5,
    right: 4,
    method: 'as-last-visit',
  });
  assert.equal(offerOf(count, checklist, given({ left: 6, right: 4 })), undefined, 'more than a side has');
  const na = given({ state: 'not-applicable', reason: 'no switch' });
  assert.equal(offerOf({ ...level, na: true }, checklist, na)?.reason, 'no switch');
  assert.equal(offerOf(level, checklist, na), undefined, 'an item that always applies');
});

test('another answer than the offered one is not as at the last visit', () => {
  const offer = offerOf(level, checklist, given({ level: '3' }));
  assert.equal(isAsOffered(offer, { item: 'x', state: 'answered', level: '3' }), true);
  assert.equal(isAsOffered(offer, { item: 'x', state: 'answered', level: '0' }), false);
  assert.equal(isAsOffered(undefined, { item: 'x', state: 'answered', level: '3' }), false);
});

test('the visit before is the latest signed one that this person may see', () => {
  const card = (id: string, startedAt: string, part: Partial<VisitCard> = {}): VisitCard =>
    ({ id, startedAt, signedAt: 'yes', secondOf: '', blind: false, ...part }) as unknown as VisitCard;
  const cards = [
    card('later', '2026-05-01'),
    card('today', '2026-04-01', { signedAt: '' }),
    card('blind', '2026-03-20', { blind: true }),
    card('second', '2026-03-19', { secondOf: 'old' }),
    card('open', '2026-03-18', { signedAt: '' }),
    card('old', '2026-03-01'),
    card('older', '2026-02-01'),
  ];
  assert.equal(visitBefore(cards, { id: 'today', started: { at: '2026-04-01' } } as unknown as Visit)?.id, 'old');
  assert.equal(visitBefore(cards.slice(0, 2), { id: 'today', started: { at: '2026-04-01' } } as unknown as Visit), undefined);
});
