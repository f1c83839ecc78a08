import assert from 'node:assert/strict';
import { test } from 'node:test';
import { parseResult } from '../../lib/engine/result';
import { failedGate, gatesByLevel, nextLevel, shortNumber, sumOf, type ExplainedSection } from './explain';

const SECTION: ExplainedSection = {
  code: 'pos',
  title: 'Positioning',
  items: [
    { id: 'pos-a', title: 'Pelvis', weight: 3 },
    { id: 'pos-b', title: 'Trunk', weight: 2 },
    { id: 'pos-c', title: 'Feet', weight: 1 },
    { id: 'pos-d', title: 'Arms', weight: 2 },
  ],
};

const RESULT = parseResult(
  [
    'doorsill-result\t1\t1\tabc',
    'level\tpractise\t0\tPractice only.',
    'gate\tpractise\t1\tno-stop\tNo STOP.',
    'gate\taccompanied\t1\tno-limit\tNo limit.',
    'gate\taccompanied\t0\tscore-pos\tPositioning 52, needs 60.',
    'gate\taccompanied\t0\tscore-ctl\tControl 40, needs 55.',
    'item\tpos-a\tanswered\t2 of 4\t2\t0.55\t0\t0',
    'item\tpos-b\tanswered\t-\t3\t1\t0\t0',
    'item\tpos-c\tnot-applicable\t-\t-\t-\t0\t0',
    'item\tpos-d\tnot-tested\t-\t-\t-\t0\t0',
  ].join('\n'),
);

test('the sum shows each weight times value and leaves out what does not apply', () => {
  const sum = sumOf(SECTION, RESULT, (_, level) => `level ${level}`);
  assert.deepEqual(
    sum.lines.map((line) => [line.item.id, line.answer, line.counted]),
    [
      ['pos-a', '2 of 4', 'answered'],
      ['pos-b', 'level 3', 'answered'],
      ['pos-c', 'does not apply', 'not-applicable'],
      ['pos-d', 'not tested', 'not-tested'],
    ],
  );
  assert.equal(shortNumber(sum.points), '3.65');
  assert.equal(sum.answeredWeight, 5);
  assert.equal(sum.applicableWeight, 7);
});

test('the failed gate is the first unmet one of the next level', () => {
  assert.equal(failedGate(RESULT)?.code, 'score-pos');
});

test('a level counts as reached only when all its gates are met', () => {
  assert.deepEqual(
    gatesByLevel(RESULT).map((group) => [group.level, group.met]),
    [
      ['practise', true],
      ['accompanied', false],
    ],
  );
});

test('there is no level above the top', () => {
  assert.equal(nextLevel('pause'), 'practise');
  assert.equal(nextLevel('wider-ground'), null);
});
