import { forceUnit, unitDecimals } from '../../ui/units';
import type { MeasureWhat } from '../../ui/visit/links';
import type { Reading, ReadingKind, ReadingTaken, SwitchPurpose, Visit } from '../../lib/model.gen';
import type { MeasurePlace } from './place';

/** One thing to measure several times: a direction, or an occasion. */
export interface Slot {
  readonly id: string;
  readonly words: string;
  /** As recorded; empty where a direction has no meaning. */
  readonly direction: string;
  /** As recorded for an occasion. */
  readonly note: string;
  /** As recorded for the force at one switch; left out where it counts for both. */
  readonly switch?: SwitchPurpose;
  /** It is watched for sixty seconds. */
  readonly minute?: boolean;
}

/** How one kind of reading is taken. */
export interface Measurement {
  readonly what: ReadingKind;
  readonly intro: string;
  readonly slots: readonly Slot[];
  /** Several repeats are wanted in each slot, as many as the engine's limits say; else one. */
  readonly repeated: boolean;
  readonly force: boolean;
  /** The unit of what is neither a force nor a way, and the digits that the pad takes. */
  readonly unit?: { readonly unit: string; readonly decimals: number };
}

function way(id: string, words: string): Slot {
  return { id, words, direction: id, note: '' };
}

function occasion(id: string, words: string): Slot {
  return { id, words, direction: '', note: words };
}

/** The four directions of a control and a press, relative to the chair. */
export const ways: readonly Slot[] = [
  way('forward', 'Forward'),
  way('left', 'Left'),
  way('press', 'Press'),
  way('right', 'Right'),
  way('reverse', 'Reverse'),
];

export const measurements: Readonly<Record<Exclude<MeasureWhat, 'release' | 'hold' | 'command' | 'stop-command'>, Measurement>> = {
  force: {
    what: 'force',
    slots: ways,
    repeated: true,
    force: true,
    intro:
      'Gauge at the contact point. Directions are the chair’s, not the body’s. 0 means tried and none; leave blank what was not tried.',
  },
  travel: {
    what: 'travel',
    slots: ways,
    repeated: false,
    force: false,
    intro: 'How far the contact point can be moved, without leaning the trunk.',
  },
  unintended: {
    what: 'unintended',
    repeated: false,
    force: true,
    slots: [
      { ...occasion('rest', 'At rest, 60 s'), minute: true },
      { ...occasion('talking', 'Talking, 60 s'), minute: true },
      occasion('bumps', 'Ten bumps'),
    ],
    intro: 'The highest force on the control that was not meant: weight, tremor, spasm, breathing.',
  },
  switch: {
    what: 'switch-force',
    repeated: true,
    force: true,
    slots: [
      way('press', 'Press, either switch'),
      { ...way('press', 'Power switch'), id: 'power', switch: 'power' },
      { ...way('press', 'Mode switch'), id: 'mode', switch: 'mode' },
      { ...way('press', 'Driver’s own stop'), id: 'stop', switch: 'stop' },
    ],
    intro:
      'Usable force at the switch, at the site that presses it. Measure power and mode apart where site or switch differ, and the driver’s own stop by itself, when tired.',
  },
  unasked: {
    what: 'unasked',
    repeated: false,
    force: false,
    unit: { unit: 'per-10-min', decimals: 0 },
    slots: [occasion('rest', 'At rest'), occasion('talking', 'While talking'), occasion('bumps', 'Over bumps')],
    intro:
      'Commands of switches, head pads, breath, scanning or a control without touch that nobody asked, counted for ten minutes. The most count.',
  },
  steps: {
    what: 'steps',
    repeated: false,
    force: false,
    unit: { unit: 'steps', decimals: 0 },
    slots: [occasion('usual', 'A usual command'), occasion('longest', 'The longest command')],
    intro: 'Presses or scanning steps until a command comes. The most count.',
  },
  breath: {
    what: 'breath',
    repeated: false,
    force: false,
    unit: { unit: 'kPa', decimals: 1 },
    slots: [occasion('puff', 'Puff'), occasion('sip', 'Sip')],
    intro: 'Pressure that is reached and held at the tube that is used, for sip and puff. The least counts.',
  },
};

/** The unit of a measurement in this visit, and the digits that the pad takes. */
export function unitOf(measurement: Measurement, visit: Visit): { readonly unit: string; readonly decimals: number } {
  if (!measurement.force) return measurement.unit ?? { unit: 'mm', decimals: 1 };
  const unit = forceUnit(visit.unit);
  return { unit, decimals: unitDecimals(unit) };
}

/** Readings of one slot under the present conditions, slips among them. */
export function readingsIn(visit: Visit, what: ReadingKind, place: MeasurePlace, slot: Slot): readonly Reading[] {
  return visit.readings.filter(
    (reading) =>
      reading.what === what &&
      reading.site === place.site &&
      reading.state === place.state &&
      reading.supported === place.supported &&
      (reading.direction ?? '') === slot.direction &&
      (reading.switch ?? '') === (slot.switch ?? '') &&
      (slot.note === '' || reading.note === slot.note),
  );
}

/** The values that count: slips left out. */
export function counted(readings: readonly Reading[]): readonly number[] {
  return readings.filter((reading) => !reading.slip).map((reading) => reading.value);
}

/** Repeats wanted in each slot; 0 while the engine's limits are not known. */
export function wantedOf(measurement: Measurement, limits: ReadonlyMap<string, number> | null): number {
  return measurement.repeated ? (limits?.get('repeats-wanted') ?? 0) : 1;
}

/** The value of a reading that stands belongs to this kind, site, support and state. */
function inRound(reading: Reading, what: ReadingKind, place: MeasurePlace): boolean {
  return (
    !reading.slip &&
    reading.what === what &&
    reading.site === place.site &&
    reading.supported === place.supported &&
    reading.state === place.state
  );
}

/** The slot that a reading stands in. */
export function slotOf(slots: readonly Slot[], reading: ReadingTaken): Slot | undefined {
  return slots.find(
    (slot) =>
      slot.direction === (reading.direction ?? '') &&
      (slot.switch ?? '') === (reading.switch ?? '') &&
      (slot.note === '' || slot.note === reading.note),
  );
}

/** The slots to go through, in the order in which the rested round went when the person is tired. */
export function roundOrder(
  order: readonly string[],
  slots: readonly Slot[],
  readings: readonly Reading[],
  what: ReadingKind,
  place: MeasurePlace,
): readonly string[] {
  if (place.state !== 'tired') return order;
  const rested = readings.filter((reading) => inRound(reading, what, { ...place, state: 'rested' }));
  const went = [...new Set(rested.flatMap((reading) => slotOf(slots, reading)?.id ?? []))].filter((id) => order.includes(id));
  return [...went, ...order.filter((id) => !went.includes(id))];
}

/** The slot of the order that comes next: the first with too few readings, after the present one if there is one there; the present one when all have enough. */
export function nextSlot(order: readonly string[], counts: Readonly<Record<string, number>>, now: string, wanted: number): string {
  const short = (id: string) => (counts[id] ?? 0) < wanted;
  return order.slice(order.indexOf(now) + 1).find(short) ?? order.find(short) ?? now;
}

/** Readings in other slots under the same conditions and in the same unit. */
export function besides(visit: Visit, what: ReadingKind, place: MeasurePlace, slot: Slot, unit: string): readonly number[] {
  return visit.readings
    .filter((reading) => inRound(reading, what, place) && reading.unit === unit && slotOf([slot], reading) === undefined)
    .map((reading) => reading.value);
}

/**
 * A visit with readings that are on this tablet and not yet in what the program has
 * folded, and with marks that are: the reason of a slip by reading, empty for one
 * that was taken back in.
 */
export function withTaken(visit: Visit, taken: readonly Reading[], marks: ReadonlyMap<string, string> = new Map()): Visit {
  const known = new Set(visit.readings.map((reading) => reading.ref));
  const fresh = taken.filter((reading) => !known.has(reading.ref));
  if (fresh.length === 0 && marks.size === 0) return visit;
  const marked = (reading: Reading): Reading => {
    const slip = marks.get(reading.ref);
    return slip === undefined ? reading : { ...reading, slip };
  };
  return { ...visit, readings: [...visit.readings, ...fresh].map(marked) };
}

/** The marks that the fold does not have yet. */
export function stillMarked(visit: Visit, marks: ReadonlyMap<string, string>): ReadonlyMap<string, string> {
  const folded = (ref: string, slip: string) => {
    const reading = visit.readings.find((one) => one.ref === ref);
    return reading !== undefined && (reading.slip ?? '') === slip;
  };
  return new Map([...marks].filter(([ref, slip]) => !folded(ref, slip)));
}
