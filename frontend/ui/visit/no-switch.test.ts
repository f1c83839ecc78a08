import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { Visit } from '../../lib/model.gen';
import { ofTheSwitch, saidNoSwitch, showsSwitch, withoutSwitch } from './no-switch';

const answered = (states: readonly (readonly string[])[]) =>
  ({
    answers: ofTheSwitch.map((item, at) => ({ item, heads: (states[at] ?? []).map((state) => ({ item, state })) })),
  }) as unknown as Visit;

test('no switch was said where nothing of the switch applies, and by one voice', () => {
  assert.equal(saidNoSwitch(answered([['not-applicable'], ['not-applicable']])), true);
  assert.equal(saidNoSwitch(answered([['not-applicable'], ['not-tested']])), false);
  assert.equal(saidNoSwitch(answered([['not-applicable'], []])), false);
  assert.equal(saidNoSwitch(answered([['not-applicable', 'answered'], ['not-applicable']])), false);
});

test('a stop that is pressed and a reading of a switch show one; a slip does not', () => {
  const seen = (setup: object, readings: readonly object[] = []) => showsSwitch({ setup, readings } as unknown as Visit);
  assert.equal(seen({ stop_press_gf: 60 }), true);
  assert.equal(seen({}, [{ what: 'switch-force' }]), true);
  assert.equal(seen({ switch_press_gf: 60 }, [{ what: 'switch-force', slip: 'typed twice' }, { what: 'force' }]), false);
});

test('the set-up keeps all but what the switches ask', () => {
  const stamp = { ref: 'tablet/1', by: 'me', at: '2030-01-01T00:00:00Z', pos: 3 };
  const rest = { class: 'small', site: 'chin', start_gf: 20, operate_gf: 50, travel_mm: 12, needed: ['left'], place: 'kitchen' };
  const setup = (more: object) => withoutSwitch({ ...stamp, ...rest, ...more } as unknown as Visit['setup']);
  for (const asked of ['switch_press_gf', 'power_press_gf', 'mode_press_gf']) assert.deepEqual(setup({ [asked]: 40 }), rest);
  assert.equal(setup({}), undefined, 'there is nothing to change');
  assert.equal(withoutSwitch(undefined), undefined);
});
