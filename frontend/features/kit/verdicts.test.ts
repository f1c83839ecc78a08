import assert from 'node:assert/strict';
import { test } from 'node:test';
import { saying } from '../../ui/result/sample';
import { SAMPLE as result } from './sample-result';
import { choiceWords, countLine, inOrder, judgedAt, judgedSites, linesOf, unknownWords, worseOf } from './verdicts';

test('sites and the order of choice are the engine’s', () => {
  assert.deepEqual(judgedSites(result), ['chin', 'thumb-left']);
  assert.deepEqual(
    inOrder(result).map((one) => [one.control, one.role]),
    [
      ['kit-small', 'main'],
      ['kit-light', 'fallback'],
    ],
  );
  assert.deepEqual(
    judgedAt(result, 'chin').map((one) => one.control),
    ['kit-small', 'kit-light', 'class:standard'],
  );
});

test('reasons stay with their control, the worst first', () => {
  const light = judgedAt(result, 'chin')[1];
  assert.deepEqual(
    light?.reasons.map((why) => why.rule),
    ['rough-head', 'force'],
  );
  assert.equal(judgedAt(result, 'thumb-left')[0]?.reasons.length, 0);
});

test('a site is summed up by the worse verdict of each control', () => {
  const chin = judgedAt(result, 'chin');
  assert.deepEqual(
    chin.map((one) => worseOf(one)),
    ['feasible', 'marginal', 'not-feasible'],
  );
  assert.equal(countLine(chin), 'works: 1, only just works: 1, does not work: 1');
  assert.equal(countLine(judgedAt(result, 'thumb-left')), 'not enough measured: 1');
  assert.equal(countLine([]), 'nothing judged');
});

test('a base that moves forbids a verdict; otherwise unknown is not enough measured', () => {
  const thumb = judgedAt(result, 'thumb-left')[0];
  assert.ok(thumb);
  assert.equal(unknownWords(thumb), 'not enough measured');
  const base = { rule: 'base', verdict: 'unknown', message: saying('The base moves.') };
  assert.equal(unknownWords({ ...thumb, reasons: [base] }), 'not known yet');
});

test('what is said of a choice is one paragraph', () => {
  const [small] = inOrder(result);
  assert.ok(small);
  assert.equal(choiceWords({ ...small, messages: [saying('One.'), saying('Two.')] }), 'One. Two.');
});

test('the lines of a control are what decides and what comes next; the rest is below', () => {
  const [small, light, standard] = judgedAt(result, 'chin');
  assert.ok(small && light && standard);
  assert.deepEqual([linesOf(small).how?.rule, linesOf(small).next, linesOf(small).rest.length], ['force', '', 0]);
  assert.deepEqual(
    [linesOf(light).how?.rule, linesOf(light).next, linesOf(light).rest.map((why) => why.rule)],
    ['rough-head', 'Drive 20 m on rough ground.', ['force']],
  );
  assert.deepEqual([linesOf(standard).how?.rule, linesOf(standard).next], ['force', 'A lighter control.']);
  const bare = judgedAt(result, 'thumb-left')[0];
  assert.ok(bare);
  assert.deepEqual(linesOf(bare), { how: undefined, next: '', rest: [] });
});
