/**
 * What is counted by touch and not an answer yet: the order of the touches, so that the
 * last one can be taken back, and a clock where one runs. Kept on every touch, like a
 * run of the driving trial.
 */
import { signal, type Signal } from '@preact/signals';
import * as v from '../schema';
import { findClock, freshClock, joinClocks, startClock, stopClock, touchClock, type Clock } from './clock';
import type { DraftBox } from './trial-store';

export interface Count {
  readonly clock: Clock;
  /** Which button, oldest first. */
  readonly taps: readonly string[];
}

export const freshCount: Count = { clock: freshClock, taps: [] };

/** More than anybody counts in one go. */
const mostTaps = 999;

export function tap(count: Count, which: string): Count {
  return count.taps.length < mostTaps ? { ...count, taps: [...count.taps, which] } : count;
}

export function untap(count: Count): Count {
  return { ...count, taps: count.taps.slice(0, -1) };
}

export function tapsOf(count: Count, which: string): number {
  return count.taps.filter((one) => one === which).length;
}

/** The clock starts with a touch of its own, or with the first that is counted. */
export function start(count: Count, now: number): Count {
  return { ...count, clock: startClock(count.clock, now) };
}

export function stop(count: Count, now: number): Count {
  return { ...count, clock: stopClock(count.clock, now) };
}

/** How many a minute that is, to a tenth; 0 while no time has passed. */
export function perMinute(taps: number, milliseconds: number): number {
  return milliseconds <= 0 ? 0 : Math.round((taps * 600_000) / milliseconds) / 10;
}

export function isFreshCount(count: Count): boolean {
  return count.taps.length === 0 && count.clock.since === null && count.clock.carried === 0;
}

const whole: v.Schema<number> = (value) => Math.floor(Math.max(0, v.fallback(v.number, 0)(value)));
const clock = v.fallback(v.object({ carried: whole, since: v.fallback(v.number, null), seen: whole }), freshClock);

/** Reads a count that was kept; what is damaged becomes fresh. */
export const readCountDraft: v.Schema<Count> = v.fallback(v.object({ clock, taps: v.fallback(v.list(v.string), []) }), freshCount);

export interface Counters {
  readonly of: (key: string) => Signal<Count>;
  readonly change: (key: string, change: (count: Count) => Count) => void;
  /** A clock runs: the tablet is not to lock itself. */
  readonly running: () => boolean;
  /** Forgets what is in memory: the tablet was locked, or somebody else is at it. */
  readonly forget: () => void;
}

export function createCounters(box: DraftBox, now: () => number): Counters {
  const counts = new Map<string, Signal<Count>>();
  const open = (key: string): Signal<Count> => {
    const kept = readCountDraft(box.load(key));
    // A clock that nobody watched stands where it was last seen.
    const count = signal<Count>({ ...kept, clock: findClock(kept.clock, now()).clock });
    counts.set(key, count);
    return count;
  };
  const of = (key: string) => counts.get(key) ?? open(key);
  const change: Counters['change'] = (key, how) => {
    const changed = how(of(key).value);
    const count = { ...changed, clock: touchClock(changed.clock, now()) };
    of(key).value = count;
    if (isFreshCount(count)) box.drop(key);
    else box.keep(key, count);
  };
  const runningKeys = () => [...counts].filter(([, count]) => count.value.clock.since !== null).map(([key]) => key);
  joinClocks(
    () => {
      for (const key of runningKeys()) change(key, (count) => stop(count, now()));
    },
    () => runningKeys().length > 0,
  );
  return { of, change, running: () => runningKeys().length > 0, forget: () => counts.clear() };
}
