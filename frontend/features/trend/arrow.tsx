import type { Direction } from './answer';

const WORDS: Readonly<Record<Direction, readonly [shape: string, words: string]>> = {
  up: ['↑', 'up'],
  down: ['↓', 'down'],
  mixed: ['↕', 'some up, some down'],
  same: ['=', 'noise'],
};

/** Which way a figure went, as a shape and in words. Arrows stand only where a change is beyond noise. */
export function ArrowWords(props: { readonly direction: Direction }) {
  const [shape, words] = WORDS[props.direction];
  return (
    <span class="arrow-words">
      <span aria-hidden="true">{shape}</span> {words}
    </span>
  );
}
