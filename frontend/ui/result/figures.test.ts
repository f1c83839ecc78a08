import assert from 'node:assert/strict';
import { test } from 'node:test';
import { parseResult } from '../../lib/engine/result';
import { basisOf, figureWords, sortFigures, unitWords, valueWords } from './figures';

const RESULT = parseResult(
  [
    'doorsill-result\t1\t1\tabc',
    'level\tpause\t0\tSentence.',
    'figure\tmean-rested\tchin\tforward\t60\tgf\tmeasured\tMean of 3.',
    'figure\tmean-rested\tchin\tleft\t-\tgf\tmissing\t',
    'figure\tusable\tchin\tforward\t42\tgf\tassumed\t0.7 of rested.',
    'figure\tusable\tchin\tleft\t-\tgf\tmissing\t',
    'figure\thold\tchin\t-\t75\ts\tmeasured\tHeld for 75 s.',
  ].join('\n'),
);

test('figures of several directions become rows, all others stay single', () => {
  const { sites, single } = sortFigures(RESULT);
  assert.deepEqual(
    sites.map((site) => [site.site, site.rows.map((row) => row.name)]),
    [['chin', ['mean-rested', 'usable']]],
  );
  assert.deepEqual(
    single.map((figure) => figure.name),
    ['hold'],
  );
});

test('an assumed value says so and a missing one is a dash', () => {
  const usable = sortFigures(RESULT).sites[0]?.rows[1]?.cells;
  assert.equal(valueWords(usable?.get('forward')), '42 (assumed)');
  assert.equal(valueWords(usable?.get('left')), '–');
  assert.equal(valueWords(usable?.get('right')), '–');
});

test('names are words, also those of a later engine', () => {
  assert.equal(figureWords('mean-rested'), 'Mean, rested');
  assert.equal(figureWords('tired-ratio'), 'Left when tired');
  assert.equal(figureWords('new-figure'), 'new figure');
  assert.equal(unitWords('ratio'), '');
  assert.equal(unitWords('gf'), 'gf');
});

test('a figure finds what it rests on whatever its state, direction or switch', () => {
  const result = parseResult(
    [
      'doorsill-result\t1\t1\tabc',
      'level\tpause\t0\tSentence.',
      'basis\tmean\tsum / how many\tA handbook\tpublished',
      'basis\tswitch-reserve\tusable / asked\tours\tproposal',
      '',
    ].join('\n'),
  );
  assert.equal(basisOf(result, 'mean-rested')?.status, 'published');
  assert.equal(basisOf(result, 'switch-reserve-mode')?.figure, 'switch-reserve');
  assert.equal(basisOf(result, 'switch-usable-mode'), undefined);
});
