import assert from 'node:assert/strict';
import { test } from 'node:test';
import { parseTrend } from './answer';
import { differingAt, markOf } from './differing';

const ANSWER = parseTrend(
  [
    'conditions\t100\t135\tsite, time of day',
    'change\tforce-rested\t100\t135\tdown\tFrom 100 to 70 gf: down.',
    'change\thelp\t100\t135\tsideways\tLevels of help.',
    'usable\t100\t80',
    'usable\t135\t70.5',
    'line\town data\t-2\t-3\t-1\t180',
    'weeks\t3\t0\t15\t10\t-\tReserve 3: in 10 weeks at the earliest, perhaps not at all.',
    'weeks\t2\t1\t-\t-\t-\tReserve 2 is already reached.',
    'say\tReserve 3 soon.',
    'advice\tLook again every 4 weeks.',
    'note\tEstimates.',
    'basis\tsum\tsource\tpublished',
    'later-kind\tx',
    '',
  ].join('\n'),
);

test('every kind of line is read and unknown ones are passed over', () => {
  assert.deepEqual(
    ANSWER.changes.map((one) => [one.figure, one.direction]),
    [
      ['force-rested', 'down'],
      ['help', 'same'],
    ],
  );
  assert.deepEqual(ANSWER.usable, [
    [100, 80],
    [135, 70.5],
  ]);
  assert.deepEqual(ANSWER.line, { source: 'own data', slope: -2, low: -3, high: -1, at: 180 });
  assert.deepEqual(
    ANSWER.reaches.map(({ reserve, already, early, late }) => [reserve, already, early, late]),
    [
      [3, false, 10, null],
      [2, true, null, null],
    ],
  );
  assert.deepEqual([ANSWER.says, ANSWER.advice, ANSWER.notes], [['Reserve 3 soon.'], ['Look again every 4 weeks.'], ['Estimates.']]);
  assert.deepEqual(ANSWER.bases, [{ formula: 'sum', source: 'source', status: 'published' }]);
});

test('a line without numbers is no line', () => {
  assert.equal(parseTrend('line\tnone\t-\t-\t-\t-\n').line, null);
  assert.equal(parseTrend('').line, null);
});

test('what differed stands at the later visit, each with its own letter', () => {
  assert.deepEqual(differingAt(ANSWER, 100, 135), ['site', 'time of day']);
  assert.deepEqual(differingAt(ANSWER, undefined, 100), []);
  const names = ['support', 'site', 'control', 'settings', 'time of day', 'rater', 'checklist version'];
  assert.equal(new Set(names.map(markOf)).size, names.length);
});

test('what set the date of the next look is read', () => {
  const look = (by: string) => parseTrend(`recheck-by\t140\t8\t${by}\tLook again in 8 weeks.\n`).look;
  assert.deepEqual(look('forecast'), { day: 140, byForecast: true, sentence: 'Look again in 8 weeks.' });
  assert.equal(look('interval')?.byForecast, false);
  assert.equal(parseTrend('say\tNothing.\n').look, null);
});
