import assert from 'node:assert/strict';
import { test } from 'node:test';
import { saying } from '../../ui/result/sample';
import type { Trend } from '../../lib/model.gen';
import { differingAt, differingWords, everDiffering } from './differing';

const NAMES = ['support', 'site', 'control', 'settings', 'time-of-day', 'rater', 'checklist'];
const TREND: Trend = {
  conditions: [
    { from: 100, to: 135, names: ['site', 'time-of-day'], message: saying('site, time of day') },
    { from: 100, to: 170, names: ['site', 'checklist', 'new-one'], message: saying('site, checklist version, new-one') },
  ],
};

test('what differed stands at the later visit, in words', () => {
  assert.equal(differingWords(TREND, 100, 135), 'site, time of day');
  assert.equal(differingWords(TREND, 100, 170), 'site, checklist version, new-one');
  assert.equal(differingWords(TREND, undefined, 100), '');
  assert.equal(differingWords(null, 100, 135), '');
});

test('each thing that differed has its own letter, once in the legend', () => {
  const all = differingAt({ conditions: [{ from: 1, to: 2, names: NAMES, message: saying('') }] }, 1, 2);
  assert.equal(new Set(all.map((one) => one.mark)).size, NAMES.length);
  assert.deepEqual(
    everDiffering(TREND).map((one) => one.mark),
    ['S', 'T', 'V', 'N'],
  );
});
