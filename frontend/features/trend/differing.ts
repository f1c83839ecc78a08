/** Short marks for what was not the same at two visits. */
import type { TrendView } from './answer';

const MARKS: Readonly<Record<string, string>> = {
  support: 'H',
  site: 'S',
  control: 'C',
  settings: 'E',
  'time of day': 'T',
  rater: 'R',
  'checklist version': 'V',
};

/** One letter in a drawing; the legend says what it stands for. */
export function markOf(name: string): string {
  return MARKS[name] ?? name.slice(0, 1).toUpperCase();
}

/** What was not the same at the visits of two days. */
export function differingAt(trend: TrendView | null, from: number | undefined, to: number): readonly string[] {
  return trend?.differing.find((one) => one.from === from && one.to === to)?.names ?? [];
}
