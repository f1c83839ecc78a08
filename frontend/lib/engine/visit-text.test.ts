import assert from 'node:assert/strict';
import { readdirSync, readFileSync } from 'node:fs';
import { test } from 'node:test';
import type { Visit } from '../model.gen';
import { shortest, visitText } from './visit-text';

const folder = 'testdata/vectors';

interface Vector {
  readonly visit: Visit;
  readonly text: string;
}

const vectors = readdirSync(folder).filter((name) => name.endsWith('.json'));

test('there are vectors that both sides share', () => {
  assert.ok(vectors.length >= 12, `expected at least 12 in ${folder}, got ${vectors.length}`);
});

for (const name of vectors) {
  test(`${name}: the tablet writes the same bytes as the server`, () => {
    const vector = JSON.parse(readFileSync(`${folder}/${name}`, 'utf8')) as Vector;
    assert.equal(visitText(vector.visit), vector.text);
  });
}

const byHand = 'testdata/visittext';

for (const name of readdirSync(byHand)) {
  test(`kit, needs, home and due items: ${name}`, () => {
    const { visit, text } = JSON.parse(readFileSync(`${byHand}/${name}`, 'utf8')) as Vector;
    assert.equal(visitText(visit), text);
  });
}

const numbers: readonly (readonly [number, string])[] = [
  [0, '0'],
  [-0, '0'],
  [0.1, '0.1'],
  [250, '250'],
  [-30.5, '-30.5'],
  [1e21, '1000000000000000000000'],
  [1.5e-7, '0.00000015'],
  [-2e-7, '-0.0000002'],
  [1.25e22, '12500000000000000000000'],
];

for (const [value, text] of numbers) {
  test(`${value} is written as ${text}`, () => assert.equal(shortest(value), text));
}

const empty: Visit = {
  id: 'v',
  client: 'c',
  team: 't',
  checklist: { id: 'standard', version: '1', hash: '' },
  unit: 'gf',
  started: { ref: 'a:1', by: 'p', at: '', pos: 0 },
  notes: {},
  answers: [],
  readings: [],
  runs: [],
  amendments: [],
  unknown: 0,
};
const stamp = { ref: 'a:2', by: 'p', at: '', pos: 0 };

test('an empty visit is one line', () => assert.equal(visitText(empty), 'doorsill-visit\t1\n'));

test('every head of an item is a line, facts stand in the order of their ids, a slip is left out', () => {
  const visit: Visit = {
    ...empty,
    answers: [
      {
        item: 'per-sides',
        heads: [
          { ...stamp, item: 'per-sides', state: 'answered', left: 5, right: 4, facts: { b: true, a: false } },
          { ...stamp, item: 'per-sides', state: 'not-tested' },
        ],
      },
    ],
    readings: [
      { ...stamp, what: 'force', site: 'chin', direction: 'left', state: 'tired', supported: true, value: 52.5, unit: 'gf' },
      {
        ...stamp,
        what: 'force',
        site: 'chin',
        direction: 'left',
        state: 'tired',
        supported: true,
        value: 520,
        unit: 'gf',
        slip: 'typed wrongly',
      },
      { ...stamp, what: 'release', site: 'chin', state: 'rested', supported: false, value: 0, unit: 's', missed: true },
    ],
  };
  assert.deepEqual(visitText(visit).split('\n').slice(1), [
    'item\tper-sides\tanswered\t5/4\ta=0,b=1',
    'item\tper-sides\tnot-tested\t-\t-',
    'reading\tforce\tchin\tleft\ttired\t1\t52.5\tgf\t0',
    'reading\trelease\tchin\t-\trested\t0\t0\ts\t1',
    '',
  ]);
});

test('set-up, run and override are written with every figure', () => {
  const visit: Visit = {
    ...empty,
    setup: {
      ...stamp,
      class: 'small',
      site: 'chin',
      start_gf: 20,
      operate_gf: 50,
      travel_mm: 12,
      throw: { left: 60 },
      needed: ['forward', 'left'],
    },
    runs: [
      {
        ...stamp,
        place: 'indoors',
        state: 'rested',
        seconds: 61.2,
        metres: 25,
        things: 1,
        people: 0,
        prompts: 2,
        rescues: 0,
        unmeant: 0,
        presses: 3,
      },
    ],
    override: {
      ...stamp,
      level: 'practise',
      reason: 'other',
      text: ' für später ',
      agreed: 'daughter',
      from: '2026-03-01',
      until: '2026-02-30',
    },
  };
  assert.deepEqual(visitText(visit).split('\n').slice(1, -1), [
    'setup\tsmall\tchin\t20\t50\t12\t100\t100\t60\t100\tforward,left\t0',
    'run\tindoors\trested\t61.2\t25\t1\t0\t2\t0\t0\t3',
    'override\tpractise\tother\t10\t0\t1\t20513\t-1',
  ]);
});
