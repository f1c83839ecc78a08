/**
 * The clocks that run on the screen right now. A clock signs in while its
 * screen is open, so that "Take a break" can stop it from anywhere.
 */
const stops = new Set<() => void>();

/** Signs a clock in; call the answer to sign it out. */
export function joinClocks(stop: () => void): () => void {
  stops.add(stop);
  return () => {
    stops.delete(stop);
  };
}

/** Stops every clock that runs. */
export function pauseClocks(): void {
  for (const stop of stops) stop();
}
