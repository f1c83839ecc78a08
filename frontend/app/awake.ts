/** Keeps the screen on while that is wanted; where a browser can not, the screen goes dark as it would. */
export function createAwake(): (wanted: boolean) => void {
  let held: WakeLockSentinel | undefined;
  let asking = false;
  let wanted = false;
  const settle = (): void => {
    if (!wanted) {
      void held?.release();
      held = undefined;
      return;
    }
    // The browser takes it away when the page is out of sight.
    if (asking || (held !== undefined && !held.released)) return;
    const locks = (navigator as { readonly wakeLock?: WakeLock }).wakeLock;
    if (locks === undefined) return;
    asking = true;
    locks.request('screen').then(
      (lock) => {
        asking = false;
        held = lock;
        if (!wanted) settle();
      },
      () => {
        asking = false; // Refused, for example at low battery: what is timed goes on.
      },
    );
  };
  return (now) => {
    wanted = now;
    settle();
  };
}
