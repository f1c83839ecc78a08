import { useEffect, useState } from 'preact/hooks';
import { counters } from '../lib/counters';
import type { Count } from '../lib/trial/counter';

/** How often a clock that runs is drawn, and how often it is kept that it does, in milliseconds. */
const drawn = 250;
const keptEvery = 5_000;

/**
 * A count or a clock in the making, kept on every touch and, while its clock runs,
 * every few seconds: a page that was killed finds it where it was.
 */
export function useRunningCount(key: string): { readonly count: Count; readonly change: (how: (count: Count) => Count) => void } {
  const count = counters.of(key).value;
  const running = count.clock.since !== null;
  const [, redraw] = useState(0);
  useEffect(() => {
    if (!running) return undefined;
    const drawing = setInterval(() => redraw((n) => n + 1), drawn);
    const keeping = setInterval(() => counters.change(key, (one) => one), keptEvery);
    return () => {
      clearInterval(drawing);
      clearInterval(keeping);
    };
  }, [running, key]);
  return { count, change: (how) => counters.change(key, how) };
}
