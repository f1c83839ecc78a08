import type { RunTimed } from '../model.gen';
import * as v from '../schema';
import { elapsedOf, freshClock, readClock, type Clock } from './clock';

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
export function addToTally(draft: TrialDraft, name: TallyName, step: 1 | -1): TrialDraft {
  const next = Math.min(mostCounted, Math.max(0, draft.counts[name] + step));
  return { ...draft, counts: { ...draft.counts, [name]: next } };
}

/** Whether a run was begun: where the next one will be, its state and its route are no run yet. */
export function isBegun(draft: TrialDraft): boolean {
  return draft.clock.since !== null || draft.clock.carried > 0 || tallies.some((name) => draft.counts[name] > 0) || draft.metres !== '';
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

const whole: v.Schema<number> = (value) => Math.floor(Math.max(0, v.fallback(v.number, 0)(value)));
const text = v.fallback(v.string, '');
const counts = v.object(Object.fromEntries(tallies.map((name) => [name, whole])) as Record<TallyName, v.Schema<number>>);

/** Reads a draft that was kept; what is damaged becomes fresh, what is sound stays. */
export const readTrial: v.Schema<TrialDraft> = v.fallback(
  v.object({
    clock: readClock,
    counts: v.fallback(counts, freshTrial.counts),
    metres: text,
    place: v.fallback(v.literal('indoors', 'outdoors', 'rough'), freshTrial.place),
    state: v.fallback(v.literal('rested', 'tired'), freshTrial.state),
    route: text,
  }),
  freshTrial,
);
