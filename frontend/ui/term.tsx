import type { ComponentChildren } from 'preact';
import { useEffect, useId, useRef, useState } from 'preact/hooks';
import { glossary, piecesOf, type TermId } from './glossary';

/**
 * A word of the trade with its meaning on tap. It opens in the line, so that it
 * covers nothing; Escape or another tap shuts it.
 */
export function Term(props: { readonly id: TermId; readonly children?: ComponentChildren }) {
  const [open, setOpen] = useState(false);
  const box = useId();
  const button = useRef<HTMLButtonElement>(null);
  const { word, meaning } = glossary[props.id];
  useEffect(() => {
    if (!open) return undefined;
    const shut = (event: KeyboardEvent) => {
      if (event.key !== 'Escape') return;
      setOpen(false);
      button.current?.focus();
    };
    document.addEventListener('keydown', shut);
    return () => document.removeEventListener('keydown', shut);
  }, [open]);
  return (
    <span class="term">
      <button ref={button} type="button" class="term-word" aria-expanded={open} aria-controls={box} onClick={() => setOpen(!open)}>
        {props.children ?? word}
      </button>
      <span id={box} class="term-meaning" role="note" hidden={!open}>
        {open ? meaning : ''}
      </span>
    </span>
  );
}

/** A text of the checklist, in which words of the glossary can be touched. */
export function TermText(props: { readonly text: string }) {
  return (
    <>
      {piecesOf(props.text).map((piece) =>
        piece.term === undefined ? (
          piece.text
        ) : (
          <Term key={piece.term} id={piece.term}>
            {piece.text}
          </Term>
        ),
      )}
    </>
  );
}
