import { lock, session } from '../store';

/**
 * How long a tablet may lie untouched before it locks. A therapist watches a
 * client drive for minutes without a touch, so this is longer than for an
 * office screen; the tablet's own lock is expected to be on as well.
 */
export const IDLE_MS = 15 * 60_000;
const LOOK_EVERY_MS = 20_000;

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

export function createIdle({ wall, steady }: Clocks): Idle {
  let [atWall, atSteady] = [wall(), steady()];
  return {
    touched: () => { [atWall, atSteady] = [wall(), steady()]; },
    tooLong: () => Math.max(wall() - atWall, steady() - atSteady) > IDLE_MS,
  };
}

/** Locks when nobody has touched the tablet for a while, also after a sleep. */
export function watchIdle(): void {
  const idle = createIdle({ wall: () => Date.now(), steady: () => performance.now() });
  const look = () => { if (session.value !== null && idle.tooLong()) lock(); };
  for (const kind of ['pointerdown', 'keydown', 'wheel'] as const) window.addEventListener(kind, idle.touched, { passive: true, capture: true });
  session.subscribe(idle.touched);
  document.addEventListener('visibilitychange', look);
  setInterval(look, LOOK_EVERY_MS);
}
