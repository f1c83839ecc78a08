import assert from 'node:assert/strict';
import { test } from 'node:test';
import { failedGate, gatesByLevel, nextLevel, shortNumber, sumOf, type ExplainedSection } from './explain';
import { resultWith, saying } from './sample';

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

const RESULT = resultWith({
  level: 'practise',
  gates: [
    { level: 'practise', met: true, code: 'no-stop', message: saying('No STOP.') },
    { level: 'accompanied', met: true, code: 'no-limit', message: saying('No limit.') },
    { level: 'accompanied', met: false, code: 'score-pos', message: saying('Positioning 52, needs 60.') },
    { level: 'accompanied', met: false, code: 'score-ctl', message: saying('Control 40, needs 55.') },
  ],
  items: [
    { id: 'pos-a', state: 'answered', band: 2, points: 55, shown: saying('2 of 4') },
    { id: 'pos-b', state: 'answered', level: '3', points: 100 },
    { id: 'pos-c', state: 'not-applicable' },
    { id: 'pos-d', state: 'not-tested' },
  ],
});

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

test('a number is written with the places that it is asked for', () => {
  assert.equal(shortNumber(2.5), '2.5');
  assert.equal(shortNumber(12.345), '12.35');
  assert.equal(shortNumber(12.345, 1), '12.3');
  assert.equal(shortNumber(1.45, 1), '1.5');
});

test('there is no level above the top', () => {
  assert.equal(nextLevel('pause'), 'practise');
  assert.equal(nextLevel('none'), 'practise');
  assert.equal(nextLevel('wider-ground'), null);
});
