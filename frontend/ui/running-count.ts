import { useEffect, useState } from 'preact/hooks';
import { counters } from '../lib/counters';
import type { CountOf, TouchCount } from '../lib/trial/counter';

/** How often a clock that runs is drawn, in milliseconds. */
const drawn = 250;

/** A count in the making, drawn anew while its clock runs. */
export function useRunningCount(which: CountOf): {
  readonly count: TouchCount;
  readonly change: (how: (count: TouchCount) => TouchCount) => void;
} {
  const { count } = counters.of(which);
  const running = count.clock.since !== null;
  const [, redraw] = useState(0);
  useEffect(() => {
    if (!running) return undefined;
    const drawing = setInterval(() => redraw((n) => n + 1), drawn);
    return () => clearInterval(drawing);
  }, [running]);
  return { count, change: (how) => counters.change(which, how) };
}
