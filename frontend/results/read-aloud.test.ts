import assert from 'node:assert/strict';
import { test } from 'node:test';
import { readAloud } from './read-aloud';
import { LEVELS, parseResult } from './result';

function resultAt(level: string, ...lines: readonly string[]): ReturnType<typeof parseResult> {
  return parseResult(['doorsill-result\t1\t1\tabc', `level\t${level}\t0\tSentence.`, ...lines].join('\n'));
}

test('every level is named, and said to be no verdict on the person', () => {
  for (const level of LEVELS) {
    const text = readAloud(resultAt(level), { level, recheck: '' }).join(' ');
    assert.match(text, /The level today is called (Pause|Practise|Accompanied|Home ground|Wider ground)\./);
    assert.match(text, /not a verdict on you/);
    assert.doesNotMatch(text, /score|percent|%/i);
  }
});

test('an open STOP comes before the steps', () => {
  const text = readAloud(resultAt('pause', 'effect\tstop\tsaf-a\tThe brake has to hold.', 'up\tpractise\tsaf-a\tHave the brake repaired.'), { level: 'pause', recheck: '' });
  assert.ok(text.indexOf('The brake has to hold.') < text.indexOf('Have the brake repaired.'));
});

test('the day of the recheck is said in words', () => {
  assert.match(readAloud(resultAt('practise'), { level: 'practise', recheck: '2026-03-05' }).join(' '), /by 5 Mar 2026/);
});
