import assert from 'node:assert/strict';
import { test } from 'node:test';
import { resultWith, saying } from '../../ui/result/sample';
import type { Titles } from '../../ui/result/titles';
import { levels } from '../../lib/model.gen';
import { readAloud } from './read-aloud';

const TITLES: Titles = {
  item: (id) =>
    id === 'eqp-brake'
      ? { title: 'Brakes hold', section: 'eqp' }
      : id === 'ctl-tired'
        ? { title: 'Force when tired', section: 'ctl' }
        : null,
  section: (code) => code,
};

test('every level is named, and said to be no verdict on the person', () => {
  for (const level of levels) {
    const text = readAloud(resultWith({ level }), TITLES, { level, recheck: '' }).join(' ');
    if (level === 'none') assert.match(text, /We do not know enough yet to say how you can drive, so nobody drives today\./);
    else assert.match(text, /The level today is called (Pause|Practise|Accompanied|Home ground|Wider ground)\./);
    assert.match(text, /not a verdict on you/);
    assert.doesNotMatch(text, /score|percent|%|\d/i);
  }
});

test('an open STOP comes before the steps, and both are said without numbers', () => {
  const text = readAloud(
    resultWith({
      level: 'pause',
      effects: [{ effect: 'stop', item: 'eqp-brake', message: saying('Brakes: level 0, STOP.') }],
      up: [{ level: 'practise', item: 'ctl-tired', message: saying('Left: 42 gf tired.') }],
    }),
    TITLES,
    { level: 'pause', recheck: '' },
  ).join(' ');
  assert.match(text, /this comes first: brakes hold\. What helps most towards the next level, Practise: force when tired\./);
  assert.doesNotMatch(text, /42/);
});

test('the day of the recheck is said in words', () => {
  assert.match(
    readAloud(resultWith({ level: 'practise' }), TITLES, { level: 'practise', recheck: '2026-03-05' }).join(' '),
    /by 5 Mar 2026/,
  );
});
