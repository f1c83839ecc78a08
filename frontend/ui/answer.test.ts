import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { Definition, Item } from '../lib';
import { answerWords, factsAndNote, bandLines, bare, levelChoices, outOfRange, rangeWords, savedWords } from './answer';

const checklist: Definition = {
  format: 'doorsill-checklist/1',
  id: 'test',
  version: '1',
  title: 'Test',
  sections: [],
  help: [
    { level: '4', name: 'Alone', text: 'done safely' },
    { level: '0', name: 'Not yet', text: 'not done' },
  ],
};

function item(part: Partial<Item>): Item {
  return { id: 'x-item', title: 'Item', prompt: 'Prompt?', type: 'number', weight: 1, ...part };
}

const clear = item({
  unit: 's',
  better: 'low',
  min: 0,
  max: 600,
  bands: [{ bound: 10, text: 'fast' }, { bound: 20, text: 'slow' }, { text: 'too slow' }],
});
const door = item({
  unit: 'mm',
  better: 'high',
  min: -500,
  max: 1600,
  bands: [{ bound: 100, text: 'easy' }, { bound: 50, text: 'tight' }, { text: 'no way through' }],
});
const ramp = item({ unit: '1 in x', better: 'high', min: 2, max: 50, bands: [{ bound: 12, text: 'gentle' }, { text: 'steep' }] });
const calls = item({
  type: 'count',
  unit: 'of 5',
  of: 5,
  better: 'high',
  bands: [{ bound: 5, text: 'all' }, { bound: 4, text: 'four' }, { text: 'three or fewer' }],
});
const sides = item({
  type: 'count',
  unit: 'of 10',
  of: 10,
  sides: true,
  better: 'high',
  bands: [{ bound: 10, text: 'all' }, { text: 'misses some' }],
});

test('bands are said with their unit', () => {
  assert.deepEqual(bandLines(clear), ['10 s or less: fast', '20 s or less: slow', 'more than 20 s: too slow']);
  assert.deepEqual(bandLines(ramp), ['1 in 12 or flatter: gentle', 'steeper than 1 in 12: steep']);
  assert.deepEqual(bandLines(calls), ['all', 'four', 'three or fewer'], 'a number is not said twice');
});

test('a rate, which is seldom whole, is said up to its bound; the best band of one is none', () => {
  const bands = [{ bound: 0, text: 'none' }, { bound: 1, text: 'one' }, { bound: 2, text: 'two' }, { text: 'three or more' }];
  assert.deepEqual(bandLines(item({ unit: 'times', bands })), ['none', 'one', 'two', 'three or more']);
  assert.deepEqual(bandLines(item({ unit: 'per 50 m', bands })), ['none', 'up to 1 per 50 m', 'up to 2 per 50 m', 'more than 2 per 50 m']);
  const some = [{ bound: 0, text: 'none' }, { bound: 3, text: 'some' }, { text: 'many' }];
  assert.deepEqual(bandLines(item({ unit: 'per 10 min', bands: some })), [
    'none',
    '3 per 10 min or less: some',
    'more than 3 per 10 min: many',
  ]);
});

test('a number outside its limits is refused with what was expected', () => {
  assert.equal(outOfRange(clear, 601), 'Expected 0 to 600 s, got 601.');
  assert.equal(outOfRange(door, -500), undefined);
  assert.equal(outOfRange(calls, 6), 'Expected 0 to 5, got 6.');
  assert.equal(rangeWords(sides), '0 to 5');
});

test('answers read the same everywhere', () => {
  assert.equal(answerWords(item({ type: 'help' }), checklist, { item: 'x', state: 'answered', level: '4' }), '4 Alone, done safely');
  assert.equal(answerWords(calls, checklist, { item: 'x', state: 'answered', number: 4 }), '4 of 5');
  assert.equal(answerWords(sides, checklist, { item: 'x', state: 'answered', left: 5, right: 3 }), 'left 5, right 3');
  assert.equal(answerWords(clear, checklist, { item: 'x', state: 'not-applicable', reason: 'no mount' }), 'does not apply: no mount');
  assert.equal(answerWords(clear, checklist, { item: 'x', state: 'not-tested' }), 'not tested');
});

test('yes and no carry their anchor words', () => {
  const stop = item({
    type: 'yes-no',
    levels: [
      { level: 'yes', text: 'shown to work' },
      { level: 'no', text: 'none' },
    ],
  });
  assert.deepEqual(levelChoices(stop, checklist), [
    { value: 'yes', label: 'Yes', text: 'shown to work' },
    { value: 'no', label: 'No', text: 'none' },
  ]);
});

test('a new value keeps note and side questions; an answer can be given again without its stamp', () => {
  const given = {
    ref: 't:1',
    by: 'p',
    at: '',
    pos: 3,
    item: 'x',
    state: 'answered',
    level: '2',
    note: 'tired',
    facts: { 'only-stop': false },
  };
  assert.deepEqual(factsAndNote(given), { note: 'tired', facts: { 'only-stop': false } });
  assert.deepEqual(bare(given, 'x'), { item: 'x', state: 'answered', level: '2', note: 'tired', facts: { 'only-stop': false } });
  assert.deepEqual(bare(undefined, 'x'), { item: 'x', state: 'not-tested' });
});

test('a note that is saved is called a note', () => {
  const [none, noted] = [{ item: 'x-item', state: 'not-tested' } as const, { item: 'x-item', state: 'not-tested', note: 'tired' } as const];
  assert.equal(savedWords(clear, checklist, none, noted), 'Item, the note');
  assert.equal(savedWords(clear, checklist, noted, none), 'Item, without its note');
  assert.equal(savedWords(clear, checklist, none, { item: 'x-item', state: 'answered', number: 8, note: 'tired' }), 'Item, 8 s');
  assert.equal(savedWords(clear, checklist, noted, { note: 'tired', state: 'answered', number: 8, item: 'x-item' }), 'Item, 8 s');
});

test('a number below zero is said in the words of its item, else with a true minus', () => {
  const given = { item: 'x-item', state: 'answered', number: -40 };
  assert.equal(answerWords({ ...door, below_zero: 'too narrow' }, checklist, given), '40 mm too narrow');
  assert.equal(answerWords(door, checklist, given), '−40 mm');
  assert.equal(rangeWords(door), '−500 to 1600 mm');
});
