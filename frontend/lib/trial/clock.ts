/**
 * A clock as plain data: it survives a reload because it remembers when it was
 * started and not how far a timer had come. All times are milliseconds; `now`
 * is the tablet's own clock.
 */
export interface Clock {
  /** Counted up to the last stop. */
  readonly carried: number;
  /** When it was started, or null while it stands. */
  readonly since: number | null;
  /** When the page last wrote that it was alive. */
  readonly seen: number;
}

/** A longer silence than this means that the page was gone, not busy. */
export const longestSilence = 30_000;

/** How often a running clock writes that it is watched, in milliseconds. */
const watchEvery = 5_000;

export const freshClock: Clock = { carried: 0, since: null, seen: 0 };

export function startClock(clock: Clock, now: number): Clock {
  return clock.since === null ? { ...clock, since: now, seen: now } : clock;
}

export function stopClock(clock: Clock, now: number): Clock {
  return { carried: elapsedOf(clock, now), since: null, seen: now };
}

/** Marks the clock as watched, so that a gap can be told from a long drive. */
export function touchClock(clock: Clock, now: number): Clock {
  return { ...clock, seen: now };
}

export function elapsedOf(clock: Clock, now: number): number {
  return clock.since === null ? clock.carried : clock.carried + Math.max(0, now - clock.since);
}

/** A clock found again after the page was gone, with the time nobody watched. */
export interface Found {
  readonly clock: Clock;
  /** Milliseconds between the last sign of life and now; 0 when the clock simply went on. */
  readonly unwatched: number;
}

/**
 * Takes up a clock after a reload. A short gap is counted: the drive went on. A
 * long one stops the clock where it was last seen, and the person decides
 * whether the gap belongs to the drive.
 */
export function findClock(clock: Clock, now: number): Found {
  if (clock.since === null) return { clock, unwatched: 0 };
  const gap = Math.max(0, now - clock.seen);
  if (gap <= longestSilence) return { clock, unwatched: 0 };
  return { clock: stopClock(clock, Math.max(clock.seen, clock.since)), unwatched: gap };
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
