import { signal } from '@preact/signals';
import { Segments } from './choice';

/** How the screens look on this device. It says nothing about any client, so it may lie open. */
export interface Display {
  readonly theme: 'paper' | 'outdoor';
  readonly hand: 'right' | 'left';
  readonly text: '100' | '125' | '150' | '200';
  readonly sound: 'on' | 'off';
}

const usual: Display = { theme: 'paper', hand: 'right', text: '100', sound: 'on' };
const place = 'doorsill-display';

function oneOf<const T extends string>(value: unknown, allowed: readonly T[], fallback: T): T {
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

function change(part: Partial<Display>): void {
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
  change({ theme: display.value.theme === 'outdoor' ? 'paper' : 'outdoor' });
}

/** Theme, hand, text size and sound. */
export function DisplaySettings() {
  const now = display.value;
  return (
    <div class="stack">
      <Segments
        legend="Light" value={now.theme}
        options={[{ value: 'paper', label: 'Indoors' }, { value: 'outdoor', label: 'Outdoors, black on white' }]}
        onChange={(value) => change({ theme: oneOf(value, ['paper', 'outdoor'], usual.theme) })}
      />
      <Segments
        legend="Buttons within reach of" value={now.hand}
        options={[{ value: 'left', label: 'Left thumb' }, { value: 'right', label: 'Right thumb' }]}
        onChange={(value) => change({ hand: oneOf(value, ['right', 'left'], usual.hand) })}
      />
      <Segments
        legend="Text size" value={now.text}
        options={['100', '125', '150', '200'].map((size) => ({ value: size, label: `${size} %` }))}
        onChange={(value) => change({ text: oneOf(value, ['100', '125', '150', '200'], usual.text) })}
      />
      <Segments
        legend="Sound and buzz when counting" value={now.sound}
        options={[{ value: 'on', label: 'On' }, { value: 'off', label: 'Off' }]}
        onChange={(value) => change({ sound: oneOf(value, ['on', 'off'], usual.sound) })}
      />
    </div>
  );
}
