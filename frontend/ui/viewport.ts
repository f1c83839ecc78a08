import { useEffect, useRef, useState } from 'preact/hooks';

interface Slice {
  readonly first: number;
  /** One past the last. */
  readonly last: number;
}

const SPARE = 10;

/** Which of `total` rows of `rowRem` rem are near the window, below the element's top. */
export function useSlice<T extends HTMLElement>(total: number, rowRem: number) {
  const box = useRef<T>(null);
  const [slice, setSlice] = useState<Slice>({ first: 0, last: Math.min(total, 30) });
  useEffect(() => {
    const look = () => {
      if (!box.current) return;
      const row = rowRem * Number.parseFloat(getComputedStyle(document.documentElement).fontSize);
      const above = Math.max(0, -box.current.getBoundingClientRect().top);
      const first = Math.max(0, Math.min(Math.max(0, total - 1), Math.floor(above / row)) - SPARE);
      const last = Math.min(total, Math.ceil((above + window.innerHeight) / row) + SPARE);
      setSlice((now) => (now.first === first && now.last === last ? now : { first, last }));
    };
    look();
    window.addEventListener('scroll', look, { passive: true });
    window.addEventListener('resize', look);
    return () => {
      window.removeEventListener('scroll', look);
      window.removeEventListener('resize', look);
    };
  }, [total, rowRem]);
  return { box, slice };
}

/** Where a table no longer fits and rows become cards; the stylesheets use the same width. */
export const NARROW = '(max-width: 60rem)';

/** Where even short facts take rows of their own. */
export const PHONE = '(max-width: 30rem)';

/** True while a media query holds. */
export function useMedia(query: string): boolean {
  const [holds, setHolds] = useState(() => window.matchMedia(query).matches);
  useEffect(() => {
    const list = window.matchMedia(query);
    const take = () => setHolds(list.matches);
    take();
    list.addEventListener('change', take);
    return () => list.removeEventListener('change', take);
  }, [query]);
  return holds;
}
