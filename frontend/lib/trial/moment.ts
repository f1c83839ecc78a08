import type { Moment } from './clock';

/**
 * Whole milliseconds since 1970 by the steady clock of the page, by which touches are
 * stamped too: setting the clock of the tablet changes no time. `at` is a time of the
 * page.
 */
export function steadyNow(at = performance.now()): number {
  return Math.round(performance.timeOrigin + at);
}

export function momentNow(): Moment {
  return { now: steadyNow(), wall: Date.now(), page: performance.timeOrigin };
}
