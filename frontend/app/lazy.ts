/**
 * What the first paint does not wait for: states, updates, the offline copy.
 * It travels with the screens, which the next touch needs anyway: in a script
 * of its own it would cut the first one into more pieces, each packed alone.
 */
import { signal, type Signal } from '@preact/signals';

export type Lazy = typeof import('./screens');

/** The lazy part of the program, once it is here. */
export const lazy: Signal<Lazy | null> = signal(null);

let loading: Promise<void> | null = null;

/** Fetches the lazy part once; a fetch that failed may be tried again. */
export function loadLazy(): Promise<void> {
  loading ??= import('./screens')
    .then((part) => {
      part.watchStates();
      part.keepUpToDate();
      lazy.value = part;
    })
    .catch((error: unknown) => {
      loading = null;
      throw error;
    });
  return loading;
}

/** Keys, rows and sending, which come with the lazy part. */
export async function loadUnlock(): Promise<Lazy['unlock']> {
  return (await import('./screens')).unlock;
}
