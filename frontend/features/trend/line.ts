import type { Trend, TrendLine } from '../../lib/model.gen';

/** A line with all of its numbers. */
export type Line = Required<TrendLine>;

/** The line that a forecast rests on; null where there is none. */
export function lineOf(trend: Trend): Line | null {
  const { source = 'none', slope, low, high, at } = trend.line ?? {};
  if (slope === undefined || low === undefined || high === undefined || at === undefined) return null;
  return { source, slope, low, high, at };
}
