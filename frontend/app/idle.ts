import { signal, type ReadonlySignal, type Signal } from '@preact/signals';
import { idleMinutes, lock, session } from '../lib';
import { clockRuns } from '../lib/trial/clock';
import { createAwake } from './awake';

const LOOK_EVERY_MS = 1_000;

/** How long before the lock it is told, in milliseconds. */
const WARN_MS = 30_000;

/**
 * How long a running clock keeps the tablet open untouched, in milliseconds: longer
 * than anybody drives without a touch, and no whole night. Proposal, not validated.
 */
const LONGEST_CLOCK_MS = 60 * 60_000;

/** Two clocks in milliseconds: one that can be set, one that cannot but may stand still while the tablet sleeps. */
export interface Clocks {
  readonly wall: () => number;
  readonly steady: () => number;
}

export interface Idle {
  readonly touched: () => void;
  /** Milliseconds until it has lain untouched for too long by either clock, 0 and less when it has: a clock that was set back does not keep the tablet open. */
  readonly left: () => number;
}

/** `most` is how long it may lie untouched, in milliseconds. */
export function createIdle({ wall, steady }: Clocks, most: () => number): Idle {
  let [atWall, atSteady] = [wall(), steady()];
  return {
    touched: () => {
      [atWall, atSteady] = [wall(), steady()];
    },
    left: () => most() - Math.max(wall() - atWall, steady() - atSteady),
  };
}

/** How long the tablet may lie untouched: while a run, a hold or a rest is timed in sight, nobody touches it for a reason. */
export function longestUntouched(minutes: number, timing: boolean): number {
  return timing ? Math.max(minutes * 60_000, LONGEST_CLOCK_MS) : minutes * 60_000;
}

const warning: Signal<number | null> = signal(null);
/** Seconds until the tablet locks, while that is near; else null. */
export const locksIn: ReadonlySignal<number | null> = warning;

/** Locks when nobody has touched the tablet for as long as the person chose, also after a sleep, and tells it before. */
export function watchIdle(): void {
  const awake = createAwake();
  const timing = () => document.visibilityState === 'visible' && clockRuns();
  const most = () => longestUntouched(idleMinutes.value, timing());
  const idle = createIdle({ wall: () => Date.now(), steady: () => performance.now() }, most);
  const look = () => {
    const open = session.peek() !== null;
    awake(open && timing());
    const left = idle.left();
    if (open && left < 0) lock();
    warning.value = open && left >= 0 && left <= WARN_MS ? Math.ceil(left / 1_000) : null;
  };
  const touched = () => {
    idle.touched();
    warning.value = null;
  };
  for (const kind of ['pointerdown', 'keydown', 'wheel'] as const) window.addEventListener(kind, touched, { passive: true, capture: true });
  session.subscribe(touched);
  // A page that comes back from a sleep or from the background is looked at before it is shown.
  document.addEventListener('visibilitychange', look);
  window.addEventListener('pageshow', look);
  window.addEventListener('pagehide', look);
  setInterval(look, LOOK_EVERY_MS);
}
