import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { Reading, Visit } from '../../lib/model.gen';
import type { MeasurePlace } from './place';
import { besides, measurements, nextSlot, readingsIn, roundOrder, slotOf, stillMarked, ways, withTaken } from './slots';

const order = ['forward', 'reverse', 'left', 'right'];
const place: MeasurePlace = { site: 'chin', state: 'rested', supported: true };

let n = 0;
function reading(direction: string, value: number, more: Partial<Reading> = {}): Reading {
  n += 1;
  return {
    ref: `a:${n}`,
    by: 'x',
    at: '',
    pos: n,
    what: 'force',
    site: 'chin',
    direction,
    state: 'rested',
    supported: true,
    value,
    unit: 'gf',
    ...more,
  };
}
const visit = (readings: readonly Reading[]) => ({ readings }) as unknown as Visit;
const way = (id: string) => {
  const slot = ways.find((one) => one.id === id);
  assert.ok(slot);
  return slot;
};

test('after a direction comes the next one in order that is short, and then those that were passed over', () => {
  assert.equal(nextSlot(order, { forward: 3 }, 'forward', 3), 'reverse');
  assert.equal(nextSlot(order, { forward: 3, reverse: 3, left: 2 }, 'forward', 3), 'left');
  assert.equal(nextSlot(order, { reverse: 3, left: 3, right: 3 }, 'right', 3), 'forward');
  assert.equal(nextSlot(order, { forward: 3, reverse: 3, left: 3, right: 3 }, 'right', 3), 'right', 'all have enough: one stays');
});

test('the tired round goes as the rested one went, whatever was left out comes after it', () => {
  const readings = [reading('left', 70), reading('left', 72), reading('forward', 90, { slip: 'slid' }), reading('reverse', 60)];
  assert.deepEqual(roundOrder(order, ways, readings, 'force', { ...place, state: 'tired' }), ['left', 'reverse', 'forward', 'right']);
  assert.deepEqual(roundOrder(order, ways, readings, 'force', place), order, 'the rested round has its own order');
  assert.deepEqual(
    roundOrder(order, ways, readings, 'force', { ...place, state: 'tired', site: 'lip' }),
    order,
    'another site has no rested round',
  );
});

test('a reading stands in the slot of its direction, its switch or its occasion', () => {
  assert.equal(slotOf(ways, reading('left', 1))?.id, 'left');
  const switches = measurements.switch.slots;
  assert.equal(slotOf(switches, reading('press', 1, { what: 'switch-force', switch: 'stop' }))?.id, 'stop');
  assert.equal(slotOf(switches, reading('press', 1, { what: 'switch-force' }))?.id, 'press');
  assert.equal(slotOf(measurements.unintended.slots, reading('', 1, { what: 'unintended', note: 'Ten bumps' }))?.id, 'bumps');
});

test('beside a direction are the others of the same site, state, support and unit that stand', () => {
  const all = [
    reading('left', 70),
    reading('forward', 90),
    reading('right', 80, { slip: 'slid' }),
    reading('right', 81, { state: 'tired' }),
    reading('right', 82, { supported: false }),
    reading('right', 83, { unit: 'N' }),
    reading('right', 84),
  ];
  assert.deepEqual(besides(visit(all), 'force', place, way('left'), 'gf'), [90, 84]);
});

test('what is on disk counts before the program has folded it, and once', () => {
  const [old, fresh] = [reading('left', 70), reading('left', 72)];
  const seen = withTaken(visit([old]), [old, fresh]);
  assert.deepEqual(
    readingsIn(seen, 'force', place, way('left')).map((one) => one.value),
    [70, 72],
  );
});

test('a mark that is on disk counts before it is folded, and no longer than that', () => {
  const [odd, other] = [reading('left', 950), reading('left', 95)];
  const marks = new Map([
    [odd.ref, 'Typed wrongly'],
    [other.ref, ''],
  ]);
  const slips = (of: Visit) => of.readings.map((one) => one.slip ?? '');
  assert.deepEqual(slips(withTaken(visit([odd]), [other], marks)), ['Typed wrongly', '']);
  assert.deepEqual([...stillMarked(visit([odd, other]), marks).keys()], [odd.ref]);
  assert.deepEqual([...stillMarked(visit([{ ...odd, slip: 'Typed wrongly' }, other]), marks).keys()], []);
});
