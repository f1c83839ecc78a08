/**
 * What the first paint does not wait for: states, updates, the offline copy.
 * It travels with the screens, which the next touch needs anyway: in a script
 * of its own it would cut the first one into more pieces, each packed alone.
 */
import { signal, type Signal } from '@preact/signals';

type Late = typeof import('./screens');

/** The late part of the program, once it is here. */
export const late: Signal<Late | null> = signal(null);

/** States that somebody must act on. */
export const toLook: Signal<number> = signal(0);

export async function loadLate(): Promise<void> {
  const part = await import('./screens');
  part.watchStates();
  part.keepUpToDate();
  late.value = part;
}
