/** Short marks for what was not the same at two visits. */
import type { TrendView } from './answer';

const MARKS: Readonly<Record<string, string>> = {
  support: 'H', site: 'S', control: 'C', settings: 'E', 'time of day': 'T', rater: 'R', 'checklist version': 'V',
};

/** One letter in a drawing; the legend says what it stands for. */
export function markOf(name: string): string {
  return MARKS[name] ?? name.slice(0, 1).toUpperCase();
}

/** What differed at a visit from the one before. */
export function differingAt(trend: TrendView | null, day: number): readonly string[] {
  return trend?.differing.find((one) => one.to === day)?.names ?? [];
}
