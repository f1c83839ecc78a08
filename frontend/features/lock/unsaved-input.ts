/**
 * What is being typed and is no entry yet. It is kept as an encrypted draft of the
 * person, by the screen it is on, so that a lock, a closed page or a crash takes at
 * most the last second of it, and it is put back into its fields there. It never
 * takes the place of a text that its writer had not seen.
 */
import { signal, type ReadonlySignal, type Signal } from '@preact/signals';
import { beforeLock, drafts, session } from '../../lib';
import * as v from '../../lib/schema';

const typedField = v.object({
  label: v.string,
  /** Which of the fields with this label within what it belongs to. */
  nth: v.number,
  text: v.string,
  before: v.optional(v.list(v.string)),
  /** What the field belongs to, where a screen has the same field for each of several things. */
  about: v.optional(v.string),
  /** The heading of what it belongs to. */
  heading: v.optional(v.string),
});
const typedFields = v.list(typedField);
export type UnsavedField = Readonly<v.Infer<typeof typedField>>;

type TextElement = HTMLInputElement | HTMLTextAreaElement;

const KINDS: ReadonlySet<string> = new Set(['text', 'search', 'number', 'date', 'tel', 'url', 'email', 'textarea']);

function isText(target: EventTarget | null): target is TextElement {
  return (target instanceof HTMLInputElement || target instanceof HTMLTextAreaElement) && KINDS.has(target.type);
}

function labelOf(field: TextElement): string {
  return (field.labels?.[0]?.textContent ?? field.getAttribute('aria-label') ?? '').trim();
}

/** What a field belongs to, such as the item of its card: a text about one is never put into the field of another. */
function ownerOf(field: TextElement): HTMLElement | null {
  return field.closest<HTMLElement>('[data-about]');
}

function aboutOf(field: TextElement): string {
  return ownerOf(field)?.dataset['about'] ?? '';
}

function headingOf(field: TextElement): string {
  return (ownerOf(field)?.querySelector('h2, legend')?.textContent ?? '').trim();
}

function fieldsNow(): readonly TextElement[] {
  return [...document.querySelectorAll('input, textarea')].filter(isText);
}

/** How long what was typed may wait before it is kept, in milliseconds. */
const KEEP_WITHIN = 1_000;

/** Fields that somebody has typed into since they were shown. */
const touched = new WeakSet<TextElement>();

/** What stood in a field each time that somebody went into it. */
const seen = new WeakMap<TextElement, Set<string>>();

function noteSeen(field: TextElement): void {
  seen.set(field, (seen.get(field) ?? new Set()).add(field.value));
}

/** What stands in touched fields, named so that it can be found again. */
function collect(): readonly UnsavedField[] {
  const counted = new Map<string, number>();
  return fieldsNow().flatMap((field) => {
    const label = labelOf(field);
    const about = aboutOf(field);
    const key = JSON.stringify([about, label]);
    const nth = counted.get(key) ?? 0;
    counted.set(key, nth + 1);
    if (!touched.has(field) || field.value.trim() === '') return [];
    return [{ label, nth, about, heading: headingOf(field), text: field.value, before: [...(seen.get(field) ?? [])] }];
  });
}

const left: Signal<readonly UnsavedField[]> = signal([]);
/** What was typed on this screen before, and has not gone back into its field. */
export const unsavedInput: ReadonlySignal<readonly UnsavedField[]> = left;

const keyOf = (path: string) => `typed:${path}`;

/** Keeps as a draft what is typed on this screen and what has not gone back into its field. */
function keep(): void {
  if (session.peek() === null) return;
  const key = keyOf(location.pathname);
  const fields = [...left.peek(), ...collect()];
  if (fields.length > 0) drafts.keep(key, fields);
  else drafts.drop(key);
}

let waiting: ReturnType<typeof setTimeout> | undefined;

function keepSoon(): void {
  waiting ??= setTimeout(() => {
    waiting = undefined;
    keep();
  }, KEEP_WITHIN);
}

function find({ label, nth, about = '' }: UnsavedField): TextElement | undefined {
  return fieldsNow().filter((field) => labelOf(field) === label && aboutOf(field) === about)[nth];
}

/** Whether a text belongs into a field: what stands there is what its writer had seen there. */
function fits(field: TextElement, { before }: UnsavedField): boolean {
  return !touched.has(field) && (before ?? ['']).includes(field.value);
}

/** Puts a text into a field as if it had been typed and left. */
function putInto(field: TextElement, text: string): void {
  noteSeen(field);
  field.value = text;
  touched.add(field);
  for (const kind of ['input', 'change']) field.dispatchEvent(new Event(kind, { bubbles: true }));
}

/** Begins to note what is typed, and keeps it soon after and whenever the page is left or locked. */
export function watchInput(): void {
  document.addEventListener('focusin', ({ target }) => {
    if (isText(target)) noteSeen(target);
  });
  document.addEventListener(
    'input',
    ({ target }) => {
      if (isText(target)) touched.add(target);
    },
    true,
  );
  // What was saved need not be kept any more: the screen then shows another text, or none.
  for (const kind of ['input', 'change', 'submit', 'click']) document.addEventListener(kind, keepSoon, true);
  beforeLock(keep);
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'hidden') keep();
  });
  window.addEventListener('pagehide', keep);
}

/** Puts back what was typed on a screen, as its fields appear; returns what to do when it is left. */
export function restoreInput(path: string): () => void {
  left.value = v.tryParse(typedFields, drafts.load(keyOf(path))) ?? [];
  const look = (): void => {
    left.value = left.value.filter((one) => {
      const field = find(one);
      if (field === undefined) return true;
      if (field.value === one.text) return false;
      if (!fits(field, one)) return true;
      putInto(field, one.text);
      return false;
    });
    if (left.value.length === 0) watcher.disconnect();
  };
  const watcher = new MutationObserver(look);
  watcher.observe(document.body, { subtree: true, childList: true });
  look();
  return () => {
    watcher.disconnect();
    // Somebody who goes to another screen has saved what was typed, or left it; a lock keeps it.
    if (session.peek() !== null && left.value.length === 0) drafts.drop(keyOf(path));
    left.value = [];
  };
}

/** Throws away what did not find its field. */
export function discardInput(path: string): void {
  left.value = [];
  drafts.drop(keyOf(path));
}
