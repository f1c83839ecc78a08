import { numberWords, type Saver } from '../../ui';
import { judge } from '../../ui/judge';
import { takeBackNoSwitch } from '../../ui/visit/no-switch';
import { convertForces, plausible, session, summariseSeries, type VisitView } from '../../lib';
import {
  directions,
  type PlausibleQuestion,
  type Reading,
  type ReadingMoved,
  type ReadingTaken,
  type Ref,
  type Visit,
} from '../../lib/model.gen';
import { atMost } from '../../lib/patience';
import { writeVisit } from '../../lib/visit-writer';
import { placeOf, type MeasurePlace } from './place';
import { askAbout, settle, type Question } from './questions';
import { besides, counted, nextSlot, readingsIn, roundOrder, unitOf, withTaken, type Measurement, type Slot } from './slots';
import { forgetStep, movedTo, rememberStep, setAside, stepsOf, takeBackIn, type Correction, type Step } from './undo';

/**
 * What one kind of reading of a visit is taken at. Work that waits in line reads from
 * it what is so when its turn comes.
 */
export interface Desk {
  readonly measurement: Measurement;
  readonly view: VisitView;
  readonly saver: Saver;
  readonly wanted: number;
  /** The slot that was chosen, or went on to; empty for the first that is short. */
  readonly chosen: string;
  readonly choose: (slot: string) => void;
  /** Readings that are on disk; those that the fold has too are passed over. */
  readonly taken: readonly Reading[];
  readonly setTaken: (taken: readonly Reading[]) => void;
  /** Marks of readings that are on disk and may not be in the fold. */
  readonly marks: ReadonlyMap<string, string>;
  readonly setMarks: (marks: ReadonlyMap<string, string>) => void;
}

/** How long what comes next waits for the engine's word on a series, in milliseconds. */
const patience = 1_000;

function orderOf(visit: Visit, measurement: Measurement): readonly string[] {
  const needed = visit.setup?.needed ?? [];
  const ids = measurement.slots.map((slot) => slot.id);
  if (measurement.what === 'switch-force') return ids.slice(0, 1);
  if (measurement.slots.length <= 3) return ids;
  const wanted = needed.length > 0 ? needed : directions;
  return wanted.filter((id) => ids.includes(id));
}

/** The visit with the readings that are on disk but not yet in its fold. */
export function visitAt(desk: Desk): Visit {
  return withTaken(desk.view.visit, desk.taken, desk.marks);
}

export function placeAt(desk: Desk): MeasurePlace {
  return placeOf(desk.view.visit);
}

export function unitAt(desk: Desk): ReturnType<typeof unitOf> {
  return unitOf(desk.measurement, desk.view.visit);
}

function roundAt(desk: Desk): readonly string[] {
  const { slots, what } = desk.measurement;
  return roundOrder(orderOf(desk.view.visit, desk.measurement), slots, visitAt(desk).readings, what, placeAt(desk));
}

/** Readings that stand, by slot. */
export function countsAt(desk: Desk): Readonly<Record<string, number>> {
  const visit = visitAt(desk);
  const place = placeAt(desk);
  return Object.fromEntries(
    desk.measurement.slots.map((slot) => [slot.id, counted(readingsIn(visit, desk.measurement.what, place, slot)).length]),
  );
}

export function slotAt(desk: Desk): Slot | undefined {
  const { slots } = desk.measurement;
  const named = slots.find((slot) => slot.id === desk.chosen);
  if (named) return named;
  const order = roundAt(desk);
  const counts = countsAt(desk);
  const first = order.find((one) => (counts[one] ?? 0) < desk.wanted) ?? order[0];
  return slots.find((slot) => slot.id === first) ?? slots[0];
}

async function write(desk: Desk, words: string, body: ReadingTaken): Promise<Ref | undefined> {
  let ref: Ref | undefined;
  await desk.saver.save(words, async () => {
    if (body.what === 'switch-force') await takeBackNoSwitch(desk.view.visit);
    ref = await writeVisit(desk.view.visit, 'reading-taken', body);
  });
  if (ref !== undefined) desk.setTaken([...desk.taken, { ref, by: session.value?.person.id ?? '', at: '', pos: 0, ...body }]);
  return ref;
}

async function correct(desk: Desk, words: string, list: readonly Correction[]): Promise<boolean> {
  const done = await desk.saver.save(words, async () => {
    for (const one of list) await writeVisit(desk.view.visit, one.kind, one.body);
  });
  const marks = list.flatMap(({ body }) => ('slip' in body ? [[body.reading, body.slip ? (body.reason ?? '') : ''] as const] : []));
  if (done) desk.setMarks(new Map([...desk.marks, ...marks]));
  return done;
}

/** Goes on to the next slot, unless the series of this one wants more. */
async function goOn(desk: Desk, slot: Slot): Promise<void> {
  const { what } = desk.measurement;
  const values = counted(readingsIn(visitAt(desk), what, placeAt(desk), slot));
  const [series] =
    (await atMost(
      patience,
      summariseSeries([{ what, unit: unitAt(desk).unit, values }]).catch(() => []),
    )) ?? [];
  const more = series ? series.wanted + (series.more ?? 0) > 0 : values.length < desk.wanted;
  desk.choose(more ? slot.id : nextSlot(roundAt(desk), countsAt(desk), slot.id, desk.wanted));
}

function bodyAt(desk: Desk, slot: Slot, value: number): ReadingTaken {
  const { site, state, supported } = placeAt(desk);
  return {
    what: desk.measurement.what,
    site,
    state,
    supported,
    value,
    unit: unitAt(desk).unit,
    ...(slot.direction === '' ? {} : { direction: slot.direction }),
    ...(slot.switch ? { switch: slot.switch } : {}),
    ...(slot.note === '' ? {} : { note: slot.note }),
  };
}

function measuredAt(desk: Desk, slot: Slot): Omit<PlausibleQuestion, 'value'> {
  const { what } = desk.measurement;
  const { unit } = unitAt(desk);
  const others = readingsIn(visitAt(desk), what, placeAt(desk), slot).filter((one) => one.unit === unit);
  return {
    what,
    site: placeAt(desk).site,
    unit,
    others: counted(others),
    directions: besides(visitAt(desk), what, placeAt(desk), slot, unit),
  };
}

/** What became of a value: it is on disk, or why not. */
export type Taken = { readonly kind: 'kept' } | { readonly kind: 'refused'; readonly sentence: string } | { readonly kind: 'failed' };

/** Keeps a value in the slot that is next, asks about it where it is not like the others, and goes on where it is. */
export async function take(desk: Desk, value: number): Promise<Taken> {
  const { what } = desk.measurement;
  const { id } = desk.view.visit;
  const slot = slotAt(desk);
  if (slot === undefined) return { kind: 'failed' };
  const judged = await judge(measuredAt(desk, slot), value, { plausible, convert: convertForces });
  if (judged.kind === 'refuse') return { kind: 'refused', sentence: judged.sentence };
  const ref = await write(desk, `${slot.words} ${value} ${unitAt(desk).unit}`, bodyAt(desk, slot, value));
  if (ref === undefined) return { kind: 'failed' };
  rememberStep(id, what, { words: numberWords(value), slot: slot.id, corrections: [setAside(ref, 'Undone')] });
  // One stays here until the engine has spoken, also if the page ends before.
  desk.choose(slot.id);
  if (judged.kind === 'ask') askAbout(id, what, { ...judged.asked, ref, slot: slot.id });
  else await goOn(desk, slot);
  return { kind: 'kept' };
}

/** Whether a value is so much like the others that a pause may keep it; not without an engine. */
export async function isUsual(desk: Desk, value: number): Promise<boolean> {
  const slot = slotAt(desk);
  if (slot === undefined) return false;
  const { others = [], directions: elsewhere = [], ...measured } = measuredAt(desk, slot);
  // The first tired one is held against the same direction rested.
  const rested = { ...placeAt(desk), state: 'rested' } as const;
  const before = readingsIn(visitAt(desk), desk.measurement.what, rested, slot).filter((one) => one.unit === measured.unit);
  const near = [others, elsewhere, counted(before)].find((list) => list.length > 0) ?? [];
  if (near.length === 0) return false;
  return plausible({ ...measured, others: near, value }).then(
    (answer) => answer.verdict === 'ok',
    () => false,
  );
}

/** Where a reading is moved to: what is left out stays. */
export type Move = Partial<Omit<ReadingMoved, 'reading'>>;

export async function move(desk: Desk, readings: readonly Reading[], to: Move, words: string): Promise<void> {
  const { what } = desk.measurement;
  const { id } = desk.view.visit;
  const slot = slotAt(desk)?.id ?? '';
  const moves = readings.map((one) => movedTo(one, to));
  if (!(await correct(desk, `moved to ${words}`, moves))) return;
  rememberStep(id, what, { words: `move to ${words}`, slot, corrections: readings.map((one) => movedTo(one, {})) });
  for (const one of readings) settle(id, what, one.ref);
}

/** Takes the suggestion of a question in place of what was typed, which stays as a slip; without one sets it aside. */
export async function replace(desk: Desk, { ref, suggestion, value, slot: at }: Question): Promise<void> {
  const { what, slots } = desk.measurement;
  const { id } = desk.view.visit;
  const original = visitAt(desk).readings.find((one) => one.ref === ref);
  const slot = slots.find((one) => one.id === at);
  if (slot === undefined || original === undefined) return;
  const words = numberWords(value);
  let fresh: Ref | undefined;
  if (suggestion !== null) {
    const { site, state, supported, unit } = original;
    fresh = await write(desk, `${slot.words} ${suggestion} ${unit}`, { ...bodyAt(desk, slot, suggestion), site, state, supported, unit });
    if (fresh === undefined) return;
  }
  const reason = suggestion === null ? 'Typed wrongly' : `Typed wrongly: it was ${numberWords(suggestion)}`;
  if (!(await correct(desk, `${words} set aside`, [setAside(ref, reason)]))) return;
  settle(id, what, ref);
  rememberStep(id, what, {
    words: suggestion === null ? `${words} aside` : numberWords(suggestion),
    slot: at,
    corrections: [takeBackIn(ref), ...(fresh === undefined ? [] : [setAside(fresh, 'Undone')])],
  });
  if (fresh !== undefined) await goOn(desk, slot);
}

/** Answers a question: it is right as it stands. */
export async function confirm(desk: Desk, { ref, slot: at }: Question): Promise<void> {
  settle(desk.view.visit.id, desk.measurement.what, ref);
  const slot = desk.measurement.slots.find((one) => one.id === at);
  if (slot) await goOn(desk, slot);
}

/** What undo takes back: the last step on this page, else the last reading here that is this person's. */
export function stepAt(desk: Desk): Step | undefined {
  const { what } = desk.measurement;
  const known = stepsOf(desk.view.visit.id, what).at(-1);
  const slot = slotAt(desk);
  if (known !== undefined || slot === undefined) return known;
  const last = readingsIn(visitAt(desk), what, placeAt(desk), slot).findLast((one) => !one.slip && one.by === session.value?.person.id);
  return last && { words: numberWords(last.value), slot: slot.id, corrections: [setAside(last.ref, 'Undone')] };
}

/** Takes the last step back: nothing leaves the record, and one is again where one was. */
export async function undo(desk: Desk): Promise<void> {
  const { what } = desk.measurement;
  const { id } = desk.view.visit;
  const step = stepAt(desk);
  if (step === undefined || !(await correct(desk, `${step.words} undone`, step.corrections))) return;
  forgetStep(id, what, step);
  const gone = new Set(step.corrections.flatMap((one) => ('slip' in one.body && one.body.slip ? one.body.reading : [])));
  for (const ref of gone) settle(id, what, ref);
  desk.choose(step.slot);
}
