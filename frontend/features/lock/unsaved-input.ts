/**
 * What was being typed when the tablet locked. It is kept as an encrypted draft
 * of the person, by the screen it was on, and put back into its fields there.
 */
import { signal, type ReadonlySignal, type Signal } from '@preact/signals';
import { beforeLock, drafts, session } from '../../lib';
import * as v from '../../lib/schema';

const typedField = v.object({ label: v.string, nth: v.number, text: v.string });
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

function fieldsNow(): readonly TextElement[] {
  return [...document.querySelectorAll('input, textarea')].filter(isText);
}

/** Fields that somebody has typed into since they were shown. */
const touched = new WeakSet<TextElement>();

/** What stands in touched fields, named so that it can be found again. */
function collect(): readonly UnsavedField[] {
  const seen = new Map<string, number>();
  return fieldsNow().flatMap((field) => {
    const label = labelOf(field);
    const nth = seen.get(label) ?? 0;
    seen.set(label, nth + 1);
    return touched.has(field) && field.value.trim() !== '' ? [{ label, nth, text: field.value }] : [];
  });
}

const keyOf = (path: string) => `typed:${path}`;

function keep(): void {
  if (session.peek() === null) return;
  const fields = collect();
  if (fields.length > 0) drafts.keep(keyOf(location.pathname), fields);
}

function find({ label, nth }: UnsavedField): TextElement | undefined {
  return fieldsNow().filter((field) => labelOf(field) === label)[nth];
}

/** Puts a text into a field as if it had been typed and left. */
function putInto(field: TextElement, text: string): void {
  if (field.value === text) return;
  field.value = text;
  touched.add(field);
  for (const kind of ['input', 'change']) field.dispatchEvent(new Event(kind, { bubbles: true }));
}

const left: Signal<readonly UnsavedField[]> = signal([]);
/** What was typed on this screen before the lock and has not found its field. */
export const unsavedInput: ReadonlySignal<readonly UnsavedField[]> = left;

/** Begins to note what is typed, and keeps it whenever the page is left or locked. */
export function watchInput(): void {
  document.addEventListener(
    'input',
    (event) => {
      if (isText(event.target)) touched.add(event.target);
    },
    true,
  );
  beforeLock(keep);
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'hidden') keep();
  });
  window.addEventListener('pagehide', keep);
}

/** Puts back what was typed on a screen, as its fields appear; returns how to stop. */
export function restoreInput(path: string): () => void {
  left.value = v.tryParse(typedFields, drafts.load(keyOf(path))) ?? [];
  if (left.value.length === 0) return () => undefined;
  const look = (): void => {
    left.value = left.value.filter((one) => {
      const field = find(one);
      if (field !== undefined) putInto(field, one.text);
      return field === undefined;
    });
    if (left.value.length === 0) done();
  };
  const watcher = new MutationObserver(look);
  const done = (): void => {
    watcher.disconnect();
    drafts.drop(keyOf(path));
  };
  watcher.observe(document.body, { subtree: true, childList: true });
  look();
  return () => {
    watcher.disconnect();
    left.value = [];
  };
}

/** Throws away what did not find its field. */
export function discardInput(path: string): void {
  left.value = [];
  drafts.drop(keyOf(path));
}
