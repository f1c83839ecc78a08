import { signal } from '@preact/signals';

/** How the screens look on this device. It says nothing about any client, so it may lie open. */
export interface Display {
  readonly theme: 'paper' | 'outdoor';
  readonly hand: 'right' | 'left';
  readonly text: '100' | '125' | '150' | '200';
  readonly sound: 'on' | 'off';
}

/** The look of a device on which nothing was chosen. */
export const usual: Display = { theme: 'paper', hand: 'right', text: '100', sound: 'on' };
const place = 'doorsill-display';

/** The allowed word that a value is, else the fallback. */
export function oneOf<const T extends string>(value: unknown, allowed: readonly T[], fallback: T): T {
  return allowed.find((one) => one === value) ?? fallback;
}

function readDisplay(): Display {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(place) ?? '{}');
    if (typeof kept !== 'object' || kept === null) return usual;
    const field = (name: string): unknown => (kept as Record<string, unknown>)[name];
    return {
      theme: oneOf(field('theme'), ['paper', 'outdoor'], usual.theme),
      hand: oneOf(field('hand'), ['right', 'left'], usual.hand),
      text: oneOf(field('text'), ['100', '125', '150', '200'], usual.text),
      sound: oneOf(field('sound'), ['on', 'off'], usual.sound),
    };
  } catch {
    return usual; // A device that keeps nothing still works, with the usual look.
  }
}

/** The present look; every screen may read it. */
export const display = signal<Display>(usual);

function show(next: Display): void {
  display.value = next;
  const root = document.documentElement;
  root.dataset.theme = next.theme;
  root.dataset.hand = next.hand;
  root.dataset.text = next.text;
}

/** Takes up the look that was chosen last; called once when the program starts. */
export function applyDisplay(): void {
  show(readDisplay());
}

/** Takes up a part of the look and keeps it on this device. */
export function changeDisplay(part: Partial<Display>): void {
  const next = { ...display.value, ...part };
  show(next);
  try {
    localStorage.setItem(place, JSON.stringify(next));
  } catch {
    // The look holds until the page closes.
  }
}

/** One tap between indoors and outdoors. */
export function switchTheme(): void {
  changeDisplay({ theme: display.value.theme === 'outdoor' ? 'paper' : 'outdoor' });
}
