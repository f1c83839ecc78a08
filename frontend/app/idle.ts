import { lock, session } from '../store';

/**
 * How long a tablet may lie untouched before it locks. A therapist watches a
 * client drive for minutes without a touch, so this is longer than for an
 * office screen; the tablet's own lock is expected to be on as well.
 */
const IDLE_MS = 15 * 60_000;
const LOOK_EVERY_MS = 20_000;

/** Locks when nobody has touched the tablet for a while, also after a sleep. */
export function watchIdle(): void {
  let last = Date.now();
  const touched = () => { last = Date.now(); };
  const look = () => { if (session.value !== null && Date.now() - last > IDLE_MS) lock(); };
  for (const kind of ['pointerdown', 'keydown', 'wheel'] as const) window.addEventListener(kind, touched, { passive: true, capture: true });
  session.subscribe(touched);
  document.addEventListener('visibilitychange', look);
  setInterval(look, LOOK_EVERY_MS);
}
