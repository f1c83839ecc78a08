import assert from 'node:assert/strict';
import { test } from 'node:test';
import { parseResult } from '../../lib/engine/result';
import { SAMPLE } from './sample-result';
import { countLine, inOrder, judgedAt, judgedSites, unknownWords, worseOf } from './verdicts';

const result = parseResult(SAMPLE);

test('sites and the order of choice are the engine’s', () => {
  assert.deepEqual(judgedSites(result), ['chin', 'thumb-left']);
  assert.deepEqual(
    inOrder(result).map((one) => [one.verdict.control, one.verdict.role]),
    [
      ['kit-small', 'main'],
      ['kit-light', 'fallback'],
    ],
  );
  assert.deepEqual(
    judgedAt(result, 'chin').map((one) => one.verdict.control),
    ['kit-small', 'kit-light', 'class:standard'],
  );
});

test('reasons stay with their control, the worst first', () => {
  const light = judgedAt(result, 'chin')[1];
  assert.deepEqual(
    light?.whys.map((why) => why.rule),
    ['rough-head', 'force'],
  );
  assert.equal(judgedAt(result, 'thumb-left')[0]?.whys.length, 0);
});

test('a site is summed up by the worse verdict of each control', () => {
  const chin = judgedAt(result, 'chin');
  assert.deepEqual(
    chin.map((one) => worseOf(one.verdict)),
    ['feasible', 'marginal', 'not-feasible'],
  );
  assert.equal(countLine(chin), '1 feasible, 1 marginal, 1 not feasible');
  assert.equal(countLine(judgedAt(result, 'thumb-left')), '1 not enough measured');
  assert.equal(countLine([]), 'nothing judged');
});

test('a base that moves forbids a verdict; otherwise unknown is not enough measured', () => {
  const thumb = judgedAt(result, 'thumb-left')[0];
  assert.ok(thumb);
  assert.equal(unknownWords(thumb), 'not enough measured');
  const base = {
    control: 'kit-small',
    site: 'thumb-left',
    rule: 'base',
    where: 'both',
    verdict: 'unknown',
    sentence: 'The base moves.',
    change: '',
  } as const;
  assert.equal(unknownWords({ ...thumb, whys: [base] }), 'no verdict yet');
});
