import type { ComponentChildren } from 'preact';
import { useSlice } from './viewport';

interface VirtualListProps<T> {
  readonly label: string;
  readonly items: readonly T[];
  readonly keyOf: (item: T) => string;
  /** Height of every row in rem, so that it grows with the text. */
  readonly rowRem: number;
  readonly row: (item: T) => ComponentChildren;
}

/** A long list of equal rows; only those near the window are in the page. */
export function VirtualList<T>(props: VirtualListProps<T>) {
  const { items, rowRem } = props;
  const { box, slice } = useSlice<HTMLUListElement>(items.length, rowRem);
  return (
    <ul ref={box} class="virtual-list" aria-label={props.label} style={{ height: `${items.length * rowRem}rem` }}>
      {items.slice(slice.first, slice.last).map((item, offset) => {
        const index = slice.first + offset;
        return (
          <li
            key={props.keyOf(item)}
            class="virtual-row"
            aria-posinset={index + 1}
            aria-setsize={items.length}
            style={{ top: `${index * rowRem}rem`, height: `${rowRem}rem` }}
          >
            {props.row(item)}
          </li>
        );
      })}
    </ul>
  );
}
