import { idleMinutes, lock, session } from '../lib';

const LOOK_EVERY_MS = 10_000;

/** Two clocks in milliseconds: one that can be set, one that cannot but may stand still while the tablet sleeps. */
export interface Clocks {
  readonly wall: () => number;
  readonly steady: () => number;
}

export interface Idle {
  readonly touched: () => void;
  /** Untouched for too long by either clock: a clock that was set back does not keep the tablet open. */
  readonly tooLong: () => boolean;
}

/** `most` is how long it may lie untouched, in milliseconds. */
export function createIdle({ wall, steady }: Clocks, most: () => number): Idle {
  let [atWall, atSteady] = [wall(), steady()];
  return {
    touched: () => {
      [atWall, atSteady] = [wall(), steady()];
    },
    tooLong: () => Math.max(wall() - atWall, steady() - atSteady) > most(),
  };
}

/** Locks when nobody has touched the tablet for as long as the person chose, also after a sleep. */
export function watchIdle(): void {
  const idle = createIdle({ wall: () => Date.now(), steady: () => performance.now() }, () => idleMinutes.value * 60_000);
  const look = () => {
    if (session.value !== null && idle.tooLong()) lock();
  };
  for (const kind of ['pointerdown', 'keydown', 'wheel'] as const)
    window.addEventListener(kind, idle.touched, { passive: true, capture: true });
  session.subscribe(idle.touched);
  // A page that comes back from a sleep or from the background is looked at before it is shown.
  document.addEventListener('visibilitychange', look);
  window.addEventListener('pageshow', look);
  window.addEventListener('pagehide', look);
  setInterval(look, LOOK_EVERY_MS);
}
