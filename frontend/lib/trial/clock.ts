import * as v from '../schema';

/**
 * A clock as plain data: it survives a reload because it remembers when it was
 * started and not how far a timer had come. All times are milliseconds. `now` is
 * the steady clock of the page, which nobody can set; only what passed while there
 * was no page is told by the tablet's own.
 */
export interface Clock {
  /** Counted up to the last stop. */
  readonly carried: number;
  /** When it was started, or null while it stands. */
  readonly since: number | null;
  /** When the page last wrote that it was alive. */
  readonly seen: number;
  /** What the tablet's own clock said then; rows of before have none. */
  readonly wall?: number | undefined;
  /** Which page wrote that: its steady clock is not that of another. */
  readonly page?: number | undefined;
}

/** One moment by both clocks of a page. */
export interface Moment {
  readonly now: number;
  readonly wall: number;
  readonly page: number;
}

/** A longer silence than this means that the page was gone, not busy. */
export const longestSilence = 30_000;

/** A tablet's clock that is kept right is put back by less than this, in milliseconds. */
const longestSetBack = 1_000;

/** How often a running clock writes that it is watched, in milliseconds. */
const watchEvery = 5_000;

export const freshClock: Clock = { carried: 0, since: null, seen: 0 };

const whole: v.Schema<number> = (value) => Math.floor(Math.max(0, v.fallback(v.number, 0)(value)));
const may = v.fallback(v.optional(v.number), undefined);

/** Reads a clock that was kept; what is damaged becomes fresh. */
export const readClock: v.Schema<Clock> = v.fallback(
  v.object({ carried: whole, since: v.fallback(v.number, null), seen: whole, wall: may, page: may }),
  freshClock,
);

export function startClock(clock: Clock, now: number): Clock {
  return clock.since === null ? { ...clock, since: now, seen: now } : clock;
}

export function stopClock(clock: Clock, now: number): Clock {
  return { carried: elapsedOf(clock, now), since: null, seen: now };
}

/** Marks the clock as watched, so that a gap can be told from a long drive. */
export function touchClock(clock: Clock, at: Moment): Clock {
  return { ...clock, seen: at.now, wall: at.wall, page: at.page };
}

export function elapsedOf(clock: Clock, now: number): number {
  return clock.since === null ? clock.carried : clock.carried + Math.max(0, now - clock.since);
}

/** A clock found again after the page was gone, with the time nobody watched. */
export interface Found {
  readonly clock: Clock;
  /**
   * Milliseconds between the last sign of life and now; 0 when the clock simply went
   * on, null when nobody can tell, since the tablet's clock was set back meanwhile.
   */
  readonly unwatched: number | null;
}

/**
 * Takes up a clock after a reload. A short gap is counted: the drive went on. A
 * long one stops the clock where it was last seen, and the person decides
 * whether the gap belongs to the drive.
 */
export function findClock(clock: Clock, at: Moment): Found {
  if (clock.since === null) return { clock, unwatched: 0 };
  const samePage = clock.page === at.page;
  const gap = samePage ? at.now - clock.seen : at.wall - (clock.wall ?? clock.seen);
  const seen = stopClock(clock, Math.max(clock.seen, clock.since));
  if (gap < -longestSetBack) return { clock: seen, unwatched: null };
  if (gap > longestSilence) return { clock: seen, unwatched: gap };
  // The steady clock of this page begins anew.
  return { clock: samePage ? clock : startClock(addGap(seen, Math.max(0, gap)), at.now), unwatched: 0 };
}

/**
 * Milliseconds by which the tablet's clock went on more than the steady one since a
 * running clock was last watched: the tablet slept, or its clock was set. 0 where
 * that is less than what is taken for busy.
 */
export function sleptOf(clock: Clock, at: Moment): number {
  if (clock.since === null || clock.wall === undefined || clock.page !== at.page) return 0;
  const slept = at.wall - clock.wall - (at.now - clock.seen);
  return slept > longestSilence ? slept : 0;
}

/** Adds the time nobody watched after all. */
export function addGap(clock: Clock, gap: number): Clock {
  return { ...clock, carried: clock.carried + gap };
}

/**
 * The clocks that run on the screen right now. A clock signs in while its
 * screen is open, so that "Take a break" can stop it from anywhere.
 */
const clocks = new Set<{ readonly stop: () => void; readonly runs: () => boolean }>();

/** Signs a clock in; call the answer to sign it out. `runs` says whether it runs right now. */
export function joinClocks(stop: () => void, runs: () => boolean): () => void {
  const clock = { stop, runs };
  clocks.add(clock);
  return () => {
    clocks.delete(clock);
  };
}

/** Whether any clock runs, on this screen or on one that was left. */
export function clockRuns(): boolean {
  return [...clocks].some((one) => one.runs());
}

/** Marks running clocks as watched by `mark`, so that a closed page can be told from a long drive. Call the answer to end it. */
export function watchClocks(mark: () => void): () => void {
  const timer = setInterval(mark, watchEvery);
  return () => clearInterval(timer);
}

/** Stops every clock that runs. */
export function pauseClocks(): void {
  for (const { stop } of clocks) stop();
}
