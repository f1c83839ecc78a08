import assert from 'node:assert/strict';
import { test } from 'node:test';
import { resultWith, saying } from '../../ui/result/sample';
import { levels } from '../../lib/model.gen';
import { readAloud } from './read-aloud';

test('every level is named, and said to be no verdict on the person', () => {
  for (const level of levels) {
    const text = readAloud(resultWith({ level }), { level, recheck: '' }).join(' ');
    if (level === 'none') assert.match(text, /We do not know enough yet to say how you can drive, so nobody drives today\./);
    else assert.match(text, /The level today is called (Pause|Practise|Accompanied|Home ground|Wider ground)\./);
    assert.match(text, /not a verdict on you/);
    assert.doesNotMatch(text, /score|percent|%|\d/i);
  }
});

test('why it is this level is said as the engine words it for the client, and nothing of the checklist', () => {
  const result = resultWith({
    level: 'pause',
    aloud: saying('Pushing this control is hard. We try one that is easier.'),
    effects: [{ effect: 'stop-control', item: 'ctl-force', message: saying('Force to spare: 0.2.') }],
    up: [{ level: 'practise', item: 'ctl-tired', message: saying('Left: 42 gf tired.') }],
  });
  const text = readAloud(result, { level: 'pause', recheck: '' }).join(' ');
  assert.match(text, /Something has to be made safe first\. Pushing this control is hard\. We try one that is easier\./);
  assert.doesNotMatch(text, /42|reserve|STOP/i);
});

test('a result of an earlier version still leads on to the next level', () => {
  const text = readAloud(resultWith({ level: 'practise' }), { level: 'practise', recheck: '' }).join(' ');
  assert.match(text, /We plan together what leads to the next level, Accompanied\./);
});

test('the day of the recheck is said in words', () => {
  assert.match(readAloud(resultWith({ level: 'practise' }), { level: 'practise', recheck: '2026-03-05' }).join(' '), /by 5 Mar 2026/);
});
