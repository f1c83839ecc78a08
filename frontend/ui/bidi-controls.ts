/**
 * Characters that turn the direction of writing are seen by nobody and change
 * what everybody reads: "ab<turn>dc" stands as "abcd". Names and notes come from
 * people and tablets that this one knows nothing of, so whatever is drawn or read
 * out shows these characters as a mark: in texts and in the words for screen
 * readers, on every screen, because it is done where Preact makes its elements.
 * What stands in a field is left as it is, as it would be saved; there a line
 * below says what it holds (field.tsx).
 */
import { options } from 'preact';

/** Unicode's Bidi_Control characters. */
const CONTROLS = /[\u061C\u200E\u200F\u202A-\u202E\u2066-\u2069]/g;

/** The text with each of the characters as ⟨U+202E⟩. */
export function showBidiControls(text: string): string {
  return text.replace(CONTROLS, (one) => `⟨U+${one.charCodeAt(0).toString(16).toUpperCase().padStart(4, '0')}⟩`);
}

/** Attributes whose words are read by people. */
const WORDS = ['aria-label', 'aria-valuetext', 'aria-description', 'title', 'alt', 'placeholder'];

interface Made {
  /** A name for an element, null for a text. */
  readonly type: unknown;
  props: unknown;
}

function mark(made: Made): void {
  if (typeof made.props === 'string') made.props = showBidiControls(made.props);
  if (typeof made.type !== 'string') return;
  const props = made.props as Record<string, unknown>;
  for (const name of WORDS) {
    const words = props[name];
    if (typeof words === 'string') props[name] = showBidiControls(words);
  }
}

/** Begins to show them in whatever is drawn from now on. */
export function watchBidiControls(): void {
  const before = options.vnode;
  options.vnode = (vnode) => {
    mark(vnode);
    before?.(vnode);
  };
}
