/** Controls as marks on paper: each has a letter and a shape of its own, so none rests on colour. */
import { useEffect, useRef, useState } from 'preact/hooks';
import { hasFigures, type Comparable } from './compare';

const size = 7;

/** Ways to draw a mark around 0, 0. */
const SHAPES: readonly string[] = [
  `M${-size} 0a${size} ${size} 0 1 0 ${2 * size} 0a${size} ${size} 0 1 0 ${-2 * size} 0z`,
  `M${-size} ${-size}h${2 * size}v${2 * size}h${-2 * size}z`,
  `M0 ${-size - 1}l${size + 1} ${2 * size}h${-2 * size - 2}z`,
  `M0 ${-size - 2}l${size + 2} ${size + 2}l${-size - 2} ${size + 2}l${-size - 2} ${-size - 2}z`,
  `M0 ${size + 1}l${size + 1} ${-2 * size}h${-2 * size - 2}z`,
  'M-3 -8h6v5h5v6h-5v5h-6v-5h-5v-6h5z',
];

/** A letter for each control, in order: A to Z, then AA. */
export function letterOf(at: number): string {
  const letter = String.fromCharCode(65 + (at % 26));
  return at < 26 ? letter : letterOf(Math.floor(at / 26) - 1) + letter;
}

/** The mark of the control with this place in the list: filled in the kit, open for a kind in general, and then larger, so that it shows around another. */
export function Mark(props: { readonly at: number; readonly generic: boolean }) {
  return (
    <path
      class={props.generic ? 'mark mark-open' : 'mark'}
      transform={props.generic ? 'scale(1.4)' : undefined}
      d={SHAPES[props.at % SHAPES.length]}
    />
  );
}

/** The same mark in a line of text. */
export function MarkInText(props: { readonly at: number; readonly control: Comparable }) {
  return (
    <span class="mark-key">
      {hasFigures(props.control) ? (
        <svg class="mark-svg" viewBox="-14 -14 28 28" aria-hidden="true" focusable="false">
          <Mark at={props.at} generic={props.control.generic} />
        </svg>
      ) : null}
      {letterOf(props.at)}
    </span>
  );
}

/** What the letters in a drawing stand for, below it. */
export function MarkNames(props: { readonly controls: readonly Comparable[] }) {
  const drawn = props.controls.map((control, at) => ({ control, at })).filter(({ control }) => hasFigures(control));
  if (drawn.length === 0) return null;
  return (
    <ul class="mark-names" aria-label="Letters in the drawing">
      {drawn.map(({ control, at }) => (
        <li key={control.id}>
          <MarkInText at={at} control={control} /> {control.name}
        </li>
      ))}
    </ul>
  );
}

/** The width that a drawing has, in pixels, so that its letters stay as large as those around it. */
export function useWidth(usual = 640) {
  const frame = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(usual);
  useEffect(() => {
    const box = frame.current;
    if (!box) return undefined;
    const watch = new ResizeObserver(() => setWidth(Math.max(260, Math.floor(box.clientWidth))));
    watch.observe(box);
    return () => watch.disconnect();
  }, []);
  return { frame, width };
}
