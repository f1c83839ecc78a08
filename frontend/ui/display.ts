import { signal } from '@preact/signals';

/** How the screens look on this device. It says nothing about any client, so it may lie open. */
const choices = {
  theme: ['system', 'paper', 'dark', 'outdoor'],
  hand: ['left', 'right'],
  text: ['100', '125', '150', '200'],
  sound: ['on', 'off'],
  pause: ['keep', 'wait'],
  boxes: ['row', 'one'],
} as const;
export type DisplayPart = keyof typeof choices;
export type Display = { readonly [Part in DisplayPart]: (typeof choices)[Part][number] };
export const displayChoices: { readonly [Part in DisplayPart]: readonly Display[Part][] } = choices;

/** The look of a device on which nothing was chosen. */
export const usual: Display = { theme: 'system', hand: 'right', text: '100', sound: 'on', pause: 'keep', boxes: 'row' };
const place = 'doorsill-display';

/** What a value chooses of a part; the usual where it is no choice. */
export function choiceOf<Part extends DisplayPart>(part: Part, value: unknown): Display[Part] {
  return displayChoices[part].find((one) => one === value) ?? usual[part];
}

function readDisplay(): Display {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(place) ?? '{}');
    if (typeof kept !== 'object' || kept === null) return usual;
    const part = <Part extends DisplayPart>(name: Part) => choiceOf(name, (kept as Record<string, unknown>)[name]);
    return {
      theme: part('theme'),
      hand: part('hand'),
      text: part('text'),
      sound: part('sound'),
      pause: part('pause'),
      boxes: part('boxes'),
    };
  } catch {
    return usual; // A device that keeps nothing still works, with the usual look.
  }
}

/** The present look; every screen may read it. */
export const display = signal<Display>(usual);

/** A theme as it is drawn. */
export type Theme = Exclude<Display['theme'], 'system'>;
export const themeNames: readonly Theme[] = ['paper', 'dark', 'outdoor'];

/** What the device may ask for: more contrast, or a dark screen. */
const wishes: readonly (readonly [query: string, theme: Theme])[] = [
  ['(prefers-contrast: more)', 'outdoor'],
  ['(prefers-color-scheme: dark)', 'dark'],
];

/** The theme that is drawn: the chosen one, or what the device asks for. */
export function themeOf(chosen: Display['theme']): Theme {
  return chosen === 'system' ? (wishes.find(([query]) => matchMedia(query).matches)?.[1] ?? 'paper') : chosen;
}

function show(next: Display): void {
  display.value = next;
  const root = document.documentElement;
  root.dataset.theme = themeOf(next.theme);
  root.dataset.hand = next.hand;
  root.dataset.text = next.text;
}

/** Takes up the look that was chosen last; called once when the program starts. */
export function applyDisplay(): void {
  show(readDisplay());
  for (const [query] of wishes) matchMedia(query).addEventListener('change', () => show(display.value));
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

/** The theme to come back to from outdoors. */
let indoors: Display['theme'] = usual.theme;

/** One tap between indoors and outdoors. */
export function switchTheme(): void {
  const { theme } = display.value;
  if (theme === 'outdoor') return changeDisplay({ theme: indoors });
  indoors = theme;
  changeDisplay({ theme: 'outdoor' });
}
