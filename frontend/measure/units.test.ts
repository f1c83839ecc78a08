import assert from 'node:assert/strict';
import { test } from 'node:test';
import { forceUnit, forceUnits, fromGramForce, toGramForce, unitDecimals } from './units';

// NIST SP 811 (2008) App. B: 1 gf is 9.80665 mN, 1 lbf is 4.448 221 615 N, an ounce is a sixteenth of a pound.
test('units agree with the published factors', () => {
  assert.equal(toGramForce(1, 'N'), 101.972);
  assert.equal(toGramForce(1, 'lbf'), 453.592);
  assert.equal(toGramForce(1, 'ozf'), 28.35);
  assert.equal(toGramForce(1, 'gf'), 1);
});

test('a force that was typed comes back as it was typed, in every unit', () => {
  for (const unit of forceUnits) {
    const step = 10 ** -unitDecimals(unit);
    for (const times of [1, 7, 250, 2345]) {
      const typed = Number((times * step).toFixed(unitDecimals(unit)));
      assert.equal(fromGramForce(toGramForce(typed, unit), unit), typed, `${typed} ${unit}`);
    }
  }
});

test('an unknown unit is shown as gram-force', () => {
  assert.equal(forceUnit('kg'), 'gf');
  assert.equal(forceUnit('ozf'), 'ozf');
});
