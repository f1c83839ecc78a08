import assert from 'node:assert/strict';
import { readdirSync, readFileSync } from 'node:fs';
import { test } from 'node:test';
import type { VisitView } from '../../lib';
import { quantityOf, resultWith, saying } from '../../ui/result/sample';
import type { Definition, Reading, Result, TrendQuestion, Visit } from '../../lib/model.gen';
import { deliveryOf, momentsOf, presentOf, trendQuestion } from './moments';

const checklist: Definition = {
  format: '',
  id: 'standard',
  version: '1',
  title: '',
  sections: [{ code: 'ind', title: 'Indoors', items: [{ id: 'ind-door', title: 'Door', prompt: '', type: 'help', weight: 1 }] }],
};

function view(at: string, change: Partial<Visit>, found: Partial<Result> = {}): VisitView {
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
    result: resultWith(found),
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
  {
    quantities: [
      quantityOf('usable', 'forward', 90),
      quantityOf('usable', 'left', 68),
      quantityOf('usable', 'right', 20),
      quantityOf('mean-rested', 'forward', 95),
      quantityOf('mean-rested', 'left', 80),
      quantityOf('mean-tired', 'left', 70),
      quantityOf('mean-rested', 'left', 10, { site: 'lip' }),
    ],
    domains: [
      { code: 'ind', score: 72, low: 72, high: 72, coverage: 95, answered: 9, applicable: 10, message: saying('Sentence.') },
      { code: 'out', low: 10, high: 90, coverage: 20, answered: 1, applicable: 9, message: saying('Sentence.') },
    ],
    items: [{ id: 'ind-door', state: 'answered', level: '3', points: 85 }],
  },
);
const SECOND = view('2026-02-02T19:00:00.000Z', { setup, settings: [{ ...stamp, key: 'accel', before: '1', after: '2', why: 'jerky' }] });

/** The time of day is the device's own. */
const held = {
  support: 'held',
  site: 'chin',
  control: 'small 50',
  settings: '0',
  time_of_day: momentsOf([FIRST])[0]?.points[0]?.conditions.time_of_day,
  rater: 'p',
  checklist: 'h',
};

test('the weakest needed direction at the present site is asked about, each for the forecast, with scores, help and conditions', () => {
  assert.deepEqual(trendQuestion(momentsOf([FIRST, SECOND]), 'slow', presentOf([FIRST, SECOND])), {
    course: 'slow',
    wait_weeks: 8,
    needed_gf: 50,
    points: [
      { day: 20458, quantity: 'force-rested', value: 80, conditions: held },
      { day: 20458, quantity: 'force-tired', value: 70, conditions: held },
      { day: 20458, quantity: 'force-rested-forward', value: 95, conditions: held },
      { day: 20458, quantity: 'force-rested-left', value: 80, conditions: held },
      { day: 20458, quantity: 'force-tired-left', value: 70, conditions: held },
      { day: 20458, quantity: 'domain-ind', value: 72, coverage: 95, conditions: held },
      { day: 20458, quantity: 'help-ind-door', value: 3, conditions: held },
    ],
  });
});

test('settings that were changed count at every later visit; support is not known without a force', () => {
  const third = view('2026-03-02T09:00:00.000Z', {}, { quantities: [quantityOf('release', '', 0.9, { unit: 's' })] });
  const [point] = momentsOf([FIRST, SECOND, third])[2]?.points ?? [];
  assert.match(held.time_of_day ?? '', /^(morning|afternoon|evening)$/);
  assert.deepEqual(point?.conditions, { ...held, support: '', site: '', control: '', settings: '1' });
});

test('an answer that waits for a choice is not asked about', () => {
  const open = view(
    '2026-01-05T09:00:00.000Z',
    {},
    { items: [{ id: 'ind-door', state: 'answered', level: '3', points: 85, choice: true }] },
  );
  assert.deepEqual(momentsOf([open])[0]?.points, []);
});

test('delivery counts from the visit that named the wait', () => {
  assert.equal(deliveryOf(momentsOf([FIRST, SECOND])), 20458 + 84);
  assert.equal(deliveryOf(momentsOf([SECOND])), null);
});

test('of two visits on one day the later is asked about', () => {
  const later = view('2026-01-05T15:00:00.000Z', { setup }, { quantities: [quantityOf('release', '', 0.9, { unit: 's' })] });
  const { judged_loss, points } = trendQuestion(momentsOf([FIRST, later]), 'stable', presentOf([FIRST, later]), 1.5);
  assert.deepEqual(
    points.map(({ day, quantity, value }) => [day, quantity, value]),
    [[20458, 'release', 0.9]],
  );
  assert.equal(judged_loss, 1.5);
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

/** The server asks the engine the same, so that both show the same date: testdata/forecast holds both to it. */
test('what the forecast depends on is asked as the server asks it', () => {
  const folder = 'testdata/forecast';
  const files = readdirSync(folder);
  assert.ok(files.length >= 3);
  for (const file of files) {
    const vector = JSON.parse(readFileSync(`${folder}/${file}`, 'utf8')) as {
      readonly name: string;
      readonly course: string;
      readonly question: TrendQuestion;
      readonly visits: readonly { readonly visit: Visit; readonly scored: Partial<Result> }[];
    };
    const views = vector.visits.map(({ visit, scored }) => ({ ...FIRST, visit, result: resultWith(scored) }));
    const { points, ...asked } = trendQuestion(momentsOf(views), vector.course, presentOf(views));
    const forces = points
      .filter((point) => point.quantity.startsWith('force'))
      .map(({ day, quantity, value }) => ({ day, quantity, value }));
    assert.deepEqual({ ...asked, points: forces }, vector.question, vector.name);
  }
});
