import { signal, type Signal } from '@preact/signals';

const place = 'doorsill-cautions-read';

function wasRead(): boolean {
  try {
    return localStorage.getItem(place) === '1';
  } catch {
    return false; // Asked again next time; that harms nobody.
  }
}

/** Whether the cautions were read on this tablet. */
export const cautionsRead: Signal<boolean> = signal(wasRead());

/** Remembers that they were read; the next screen is the one that was asked for. */
export function markRead(): void {
  cautionsRead.value = true;
  try {
    localStorage.setItem(place, '1');
  } catch {
    // It holds until the page closes.
  }
}
