import type { ComponentChildren } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';

export interface VirtualListProps<T> {
  readonly label: string;
  readonly items: readonly T[];
  readonly keyOf: (item: T) => string;
  /** Height of every row in rem, so that it grows with the text. */
  readonly rowRem: number;
  readonly row: (item: T, index: number) => ComponentChildren;
  /** Called when the end comes near, to fetch more; the caller guards against doubles. */
  readonly onNearEnd?: (() => void) | undefined;
  /** How many there are in all, when more than are loaded. */
  readonly total?: number | undefined;
}

const spare = 8;

function rootSize(): number {
  return Number.parseFloat(getComputedStyle(document.documentElement).fontSize);
}

interface Slice {
  readonly first: number;
  readonly last: number;
}

/** A long list of equal rows; only those near the window are in the page. */
export function VirtualList<T>(props: VirtualListProps<T>) {
  const box = useRef<HTMLUListElement>(null);
  const [slice, setSlice] = useState<Slice>({ first: 0, last: 30 });
  const { rowRem, items, onNearEnd } = props;
  useEffect(() => {
    const look = () => {
      const list = box.current;
      if (!list) return;
      const row = rowRem * rootSize();
      const above = Math.max(0, -list.getBoundingClientRect().top);
      const first = Math.max(0, Math.floor(above / row) - spare);
      const last = Math.min(items.length, Math.ceil((above + window.innerHeight) / row) + spare);
      setSlice((now) => (now.first === first && now.last === last ? now : { first, last }));
      if (last >= items.length) onNearEnd?.();
    };
    look();
    window.addEventListener('scroll', look, { passive: true });
    window.addEventListener('resize', look);
    return () => {
      window.removeEventListener('scroll', look);
      window.removeEventListener('resize', look);
    };
  }, [items, rowRem, onNearEnd]);
  const total = props.total ?? items.length;
  return (
    <ul ref={box} class="virtual-list" aria-label={props.label} style={{ height: `${items.length * rowRem}rem` }}>
      {items.slice(slice.first, slice.last).map((item, offset) => {
        const index = slice.first + offset;
        return (
          <li
            key={props.keyOf(item)}
            class="virtual-row"
            aria-posinset={index + 1}
            aria-setsize={total}
            style={{ top: `${index * rowRem}rem`, height: `${rowRem}rem` }}
          >
            {props.row(item, index)}
          </li>
        );
      })}
    </ul>
  );
}
