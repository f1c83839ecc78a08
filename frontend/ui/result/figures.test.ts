import assert from 'node:assert/strict';
import { test } from 'node:test';
import { provenanceOf, figureWords, sortFigures, statusWords, unitWords, valueWords } from './figures';
import { quantityOf, resultWith, saying } from './sample';

const RESULT = resultWith({
  quantities: [
    quantityOf('mean-rested', 'forward', 60, { message: saying('Mean of 3.') }),
    quantityOf('mean-rested', 'left', undefined),
    quantityOf('usable', 'forward', 42, { origin: 'assumed', message: saying('0.7 of rested.') }),
    quantityOf('usable', 'left', undefined),
    quantityOf('hold', '', 75, { unit: 's', message: saying('Held for 75 s.') }),
  ],
  limits: [quantityOf('limit-sustained', '', 12, { unit: '%', origin: 'assumed' })],
});

test('figures of several directions become rows, all others stay single', () => {
  const { sites, single } = sortFigures(RESULT);
  assert.deepEqual(
    sites.map((site) => [site.site, site.rows.map((row) => row.name)]),
    [['chin', ['mean-rested', 'usable']]],
  );
  assert.deepEqual(
    single.map((figure) => figure.name),
    ['hold', 'limit-sustained'],
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
  assert.equal(unitWords('per-50-m'), 'per 50 m');
  assert.equal(unitWords(undefined), '');
});

test('a figure finds what it rests on whatever its state, direction or switch', () => {
  const result = resultWith({
    provenance: [
      { quantity: 'mean', formula: saying('sum / how many'), source: saying('A handbook'), status: 'published' },
      { quantity: 'switch-reserve', formula: saying('usable / asked'), source: saying('ours'), status: 'proposal', borrowed: true },
    ],
  });
  const [mean, reserve] = [provenanceOf(result, 'mean-rested'), provenanceOf(result, 'switch-reserve-mode')];
  assert.ok(mean && reserve);
  assert.equal(statusWords(mean), 'published');
  assert.equal(reserve.quantity, 'switch-reserve');
  assert.equal(statusWords(reserve), 'proposal, not validated, borrowed');
  assert.equal(provenanceOf(result, 'switch-usable-mode'), undefined);
});
