import assert from 'node:assert/strict';
import { readdirSync, readFileSync } from 'node:fs';
import { test } from 'node:test';
import type { VisitView } from '../../lib';
import { parseResult } from '../../lib/engine/result';
import type { Definition, Reading, Visit } from '../../lib/model.gen';
import { deliveryOf, momentsOf, presentOf, trendText } from './moments';

const checklist: Definition = {
  format: '',
  id: 'standard',
  version: '1',
  title: '',
  sections: [{ code: 'ind', title: 'Indoors', items: [{ id: 'ind-door', title: 'Door', prompt: '', type: 'help', weight: 1 }] }],
};

function view(at: string, change: Partial<Visit>, ...lines: readonly string[]): VisitView {
  const text = ['doorsill-result\t1\t1\tabc', 'level\taccompanied\t0\tSentence.', ...lines].join('\n');
  return {
    visit: {
      id: at,
      client: 'c',
      team: 't',
      checklist: { id: 'standard', version: '1', hash: 'h' },
      unit: 'gf',
      started: { ref: 'a:1', by: 'p', at, pos: 1 },
      notes: {},
      answers: [],
      readings: [],
      runs: [],
      amendments: [],
      unknown: 0,
      ...change,
    },
    checklist,
    result: parseResult(text),
    resultText: text,
    provisional: false,
    differs: false,
    engineError: '',
    sync: 'sent',
    blind: false,
  };
}

const stamp = { ref: 'a:2', by: 'p', at: '', pos: 2 };
const setup = { ...stamp, class: 'small', site: 'chin', start_gf: 15, operate_gf: 50, travel_mm: 10, needed: ['forward', 'left'] };
const force: Reading = {
  ...stamp,
  what: 'force',
  site: 'chin',
  direction: 'left',
  state: 'rested',
  supported: true,
  value: 60,
  unit: 'gf',
};

const FIRST = view(
  '2026-01-05T09:00:00.000Z',
  { setup, readings: [force], needs: { ...stamp, wait_weeks: 12, hours_driving: 3 } },
  'figure\tusable\tchin\tforward\t90\tgf\tmeasured\t',
  'figure\tusable\tchin\tleft\t70\tgf\tmeasured\t',
  'figure\tusable\tchin\tright\t20\tgf\tmeasured\t',
  'figure\tmean-rested\tchin\tforward\t95\tgf\tmeasured\t',
  'figure\tmean-rested\tchin\tleft\t80\tgf\tmeasured\t',
  'figure\tmean-tired\tchin\tleft\t70\tgf\tmeasured\t',
  'figure\tmean-rested\tlip\tleft\t10\tgf\tmeasured\t',
  'domain\tind\t72\t72\t72\t95\t9\t10\tSentence.',
  'domain\tout\t-\t10\t90\t20\t1\t9\tSentence.',
  'item\tind-door\tanswered\t-\t3\t0.85\t0\t0',
);
const SECOND = view('2026-02-02T19:00:00.000Z', { setup, settings: [{ ...stamp, key: 'accel', before: '1', after: '2', why: 'jerky' }] });

/** Lines without the time of day, which is the device's own. */
function placeless(text: string): readonly string[] {
  return text.replace(/\|(morning|afternoon|evening)\|/g, '|*|').split('\n');
}

test('the weakest needed direction at the present site is asked about, with scores, help and conditions', () => {
  const present = presentOf([FIRST, SECOND]);
  const text = trendText(momentsOf([FIRST, SECOND]), 'slow', present, '');
  assert.deepEqual(placeless(text), [
    'course\tslow',
    'wait\t8',
    'needed\t50',
    'point\t20458\tforce-rested\t80\tgf\theld|chin|small 50|0|*|p|h',
    'point\t20458\tforce-tired\t70\tgf\theld|chin|small 50|0|*|p|h',
    'point\t20458\tdomain-ind\t72/95\tpoints\theld|chin|small 50|0|*|p|h',
    'point\t20458\thelp-ind-door\t3\tlevel\theld|chin|small 50|0|*|p|h',
    '',
  ]);
  assert.match(momentsOf([FIRST, SECOND])[1]?.conditions ?? '', /^\|chin\|small 50\|1\|\w+\|p\|h$/);
});

test('delivery counts from the visit that named the wait', () => {
  assert.equal(deliveryOf(momentsOf([FIRST, SECOND])), 20458 + 84);
  assert.equal(deliveryOf(momentsOf([SECOND])), null);
});

test('of two visits on one day the later is asked about', () => {
  const later = view('2026-01-05T15:00:00.000Z', { setup }, 'figure\trelease\tchin\t-\t0.9\ts\tmeasured\t');
  const text = trendText(momentsOf([FIRST, later]), 'stable', presentOf([FIRST, later]), '1.5');
  assert.deepEqual(
    placeless(text).filter((line) => line.startsWith('point')),
    ['point\t20458\trelease\t0.9\ts\t|chin|small 50|0|*|p|h'],
  );
  assert.match(text, /^judged\t1\.5$/m);
});

test('of two pain answers the higher is shown, and none is not zero', () => {
  const head = { ...stamp, item: 'ctl-pain', state: 'answered' };
  const both = view('2026-01-05T09:00:00.000Z', {
    answers: [
      {
        item: 'ctl-pain',
        heads: [
          { ...head, number: 2 },
          { ...head, number: 6 },
        ],
      },
    ],
  });
  assert.deepEqual(
    momentsOf([both, SECOND]).map((moment) => moment.pain),
    [6, null],
  );
});

/** The server asks the engine the same, so that both show the same date: testdata/foresight holds both to it. */
test('what the forecast depends on is asked as the server asks it', () => {
  const folder = 'testdata/foresight';
  const files = readdirSync(folder);
  assert.ok(files.length >= 3);
  for (const file of files) {
    const vector = JSON.parse(readFileSync(`${folder}/${file}`, 'utf8')) as {
      readonly name: string;
      readonly course: string;
      readonly text: string;
      readonly visits: readonly { readonly visit: Visit; readonly result: string }[];
    };
    const views = vector.visits.map(({ visit, result }) => ({ ...FIRST, visit, result: parseResult(result), resultText: result }));
    const asked = trendText(momentsOf(views), vector.course, presentOf(views), '')
      .split('\n')
      .filter((line) => !/^point\t\d+\t(?!force)/.test(line))
      .map((line) => (line.startsWith('point') ? [...line.split('\t').slice(0, 5), '-'].join('\t') : line));
    assert.equal(asked.join('\n'), vector.text, vector.name);
  }
});
