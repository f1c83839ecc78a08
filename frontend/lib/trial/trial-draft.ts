import type { RunTimed } from '../model.gen';
import { elapsedOf, freshClock, type Clock } from './clock';

/** What is counted during a run, in the order of the screen. */
export const tallies = ['things', 'people', 'prompts', 'rescues', 'unmeant', 'presses'] as const;
export type TallyName = (typeof tallies)[number];

/** A run that is being driven. It is written down on every touch. */
export interface TrialDraft {
  readonly clock: Clock;
  readonly counts: Readonly<Record<TallyName, number>>;
  /** As typed; blank until known. */
  readonly metres: string;
  readonly place: 'indoors' | 'outdoors' | 'rough';
  readonly state: 'rested' | 'tired';
  readonly route: string;
}

export const freshTrial: TrialDraft = {
  clock: freshClock,
  counts: { things: 0, people: 0, prompts: 0, rescues: 0, unmeant: 0, presses: 0 },
  metres: '',
  place: 'indoors',
  state: 'rested',
  route: '',
};

const mostCounted = 999;

/** One more or one less; never below 0. */
export function count(draft: TrialDraft, name: TallyName, step: 1 | -1): TrialDraft {
  const next = Math.min(mostCounted, Math.max(0, draft.counts[name] + step));
  return { ...draft, counts: { ...draft.counts, [name]: next } };
}

/** Whether anything would be lost by throwing the draft away. */
export function isFresh(draft: TrialDraft): boolean {
  return (
    draft.clock.since === null &&
    draft.clock.carried === 0 &&
    tallies.every((name) => draft.counts[name] === 0) &&
    draft.metres === '' &&
    draft.route === ''
  );
}

/** The next run starts where this one was: same place, state and route, all counts at 0. */
export function nextTrial(draft: TrialDraft): TrialDraft {
  return { ...freshTrial, place: draft.place, state: draft.state, route: draft.route };
}

/** What is left after a run was saved: touches that came while it was being written stay. */
export function afterSaving(draft: TrialDraft, saved: RunTimed): TrialDraft {
  const left = tallies.map((name) => [name, Math.max(0, draft.counts[name] - saved[name])] as const);
  return { ...nextTrial(draft), counts: Object.fromEntries(left) as Record<TallyName, number> };
}

/**
 * Whether a draft found after a crash is a run that had been saved just before:
 * the page died between the record and the clearing of the draft.
 */
export function alreadySaved(draft: TrialDraft, runs: readonly RunTimed[]): boolean {
  if (draft.clock.since !== null || draft.clock.carried === 0) return false;
  const mine = toRun(draft, 0, Number(draft.metres.replace(',', '.')));
  return runs.some(
    (run) =>
      run.seconds === mine.seconds &&
      run.metres === mine.metres &&
      run.place === mine.place &&
      run.state === mine.state &&
      tallies.every((name) => run[name] === mine[name]),
  );
}

/** The run as it is recorded. Seconds are rounded to a tenth. */
export function toRun(draft: TrialDraft, now: number, metres: number): RunTimed {
  const route = draft.route.trim();
  return {
    ...(route === '' ? {} : { route }),
    place: draft.place,
    state: draft.state,
    seconds: Math.round(elapsedOf(draft.clock, now) / 100) / 10,
    metres,
    ...draft.counts,
  };
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null;
}

function whole(value: unknown): number {
  return typeof value === 'number' && Number.isFinite(value) && value > 0 ? Math.floor(value) : 0;
}

function readClock(value: unknown): Clock {
  if (!isRecord(value)) return freshClock;
  const since = typeof value.since === 'number' && Number.isFinite(value.since) ? value.since : null;
  return { carried: whole(value.carried), since, seen: whole(value.seen) };
}

function text(value: unknown): string {
  return typeof value === 'string' ? value : '';
}

/** Reads a draft that was kept; what is damaged becomes fresh, what is sound stays. */
export function readTrial(value: unknown): TrialDraft {
  if (!isRecord(value)) return freshTrial;
  const counts = isRecord(value.counts) ? value.counts : {};
  const { place, state } = value;
  return {
    clock: readClock(value.clock),
    counts: {
      things: whole(counts.things),
      people: whole(counts.people),
      prompts: whole(counts.prompts),
      rescues: whole(counts.rescues),
      unmeant: whole(counts.unmeant),
      presses: whole(counts.presses),
    },
    metres: text(value.metres),
    place: place === 'outdoors' || place === 'rough' ? place : 'indoors',
    state: state === 'tired' ? 'tired' : 'rested',
    route: text(value.route),
  };
}
