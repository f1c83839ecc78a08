import type { RefObject } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { isBurst, isNumberKey, noBurst, typedKey } from './typing';

/** Whether somebody types into something else. */
function isTyping(target: EventTarget | null): boolean {
  if (!(target instanceof HTMLElement)) return false;
  if (target instanceof HTMLInputElement) return !['radio', 'checkbox', 'button'].includes(target.type);
  return target instanceof HTMLTextAreaElement || target instanceof HTMLSelectElement;
}

/**
 * Brings what a keypad or a gauge types to the pad wherever the focus is, unless a
 * dialog is open or somebody types elsewhere, and keeps it from being taken for a
 * shortcut. A gauge may end a reading by Tab instead of Enter.
 */
export function usePadKeyboard(input: RefObject<HTMLInputElement | null>, onChange: (text: string) => void, onDone: (at: number) => void) {
  const burst = useRef(noBurst);
  const act = useRef({ onChange, onDone });
  act.current = { onChange, onDone };
  useEffect(() => {
    const take = (event: KeyboardEvent) => {
      const field = input.current;
      if (field === null || document.querySelector('dialog[open]') !== null) return;
      const here = event.target === field;
      if (!here && isTyping(event.target)) return;
      if (isNumberKey(event)) {
        event.stopPropagation();
        burst.current = typedKey(burst.current, event.timeStamp, field.value.length);
        if (here) return;
        event.preventDefault();
        field.focus();
        field.value += event.key;
        act.current.onChange(field.value);
      } else if (here && event.key === 'Enter') {
        event.stopPropagation();
        event.preventDefault();
        act.current.onDone(event.timeStamp);
      } else if (here && event.key === 'Tab' && isBurst(burst.current, event.timeStamp)) {
        event.preventDefault();
        act.current.onDone(event.timeStamp);
      }
    };
    window.addEventListener('keydown', take, { capture: true });
    return () => window.removeEventListener('keydown', take, { capture: true });
  }, [input]);
  return burst;
}
