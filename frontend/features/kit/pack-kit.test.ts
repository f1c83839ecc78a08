import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { Control } from '../../lib/model.gen';
import { packKit } from '../../lib/records/pack-kit';
import { isAsPacked } from './pack-kit';

const control: Control = {
  id: 'c1',
  ref: 't:1',
  by: 'p',
  at: '2026-03-02T10:00:00Z',
  pos: 4,
  team: 'team-a',
  name: 'Chin set',
  class: 'small',
  start_gf: 12,
  operate_gf: 50,
  travel_mm: 9,
  sealing: 'IP54',
  power_jack: true,
  mode_jack: false,
  attendant: false,
  connector: 'nine pins',
  weight_g: 180,
};

const packed = (one: Control) => packKit([one], 'team-a').controls[0] ?? assert.fail('nothing was packed');

test('the kit is as packed whatever the order, and not once a figure differs', () => {
  const other = packed({ ...control, id: 'c2' });
  assert.equal(isAsPacked([packed(control), other], [other, packed(control)]), true);
  assert.equal(isAsPacked([packed({ ...control, operate_gf: 55 })], [packed(control)]), false);
  assert.equal(isAsPacked([packed({ ...control, weight_g: 200 })], [packed(control)]), true);
  assert.equal(isAsPacked([], [packed(control)]), false);
});
