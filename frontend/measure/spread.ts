import { toGramForce, type ForceUnit } from './units';

/** Repeats wanted for a force; the mean of three is steadier than one try. */
export const wantedRepeats = 3;
/** Most repeats of one direction and state. */
export const mostRepeats = 8;

/** Spread that asks for one more, in percent: common practice, no source; weak forces are read more coarsely. */
const wideSpread = 20;
const wideSpreadWeak = 30;
const weakGramForce = 50;

export function mean(values: readonly number[]): number {
  return values.length === 0 ? 0 : values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** The middle value; of an even number the lower of the two, as the engine takes it. */
export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor((sorted.length - 1) / 2)] ?? 0;
}

/** (Highest - lowest) / mean in percent; null below two readings or when all are 0. */
export function spreadPercent(values: readonly number[]): number | null {
  const average = mean(values);
  if (values.length < 2 || average === 0) return null;
  return ((Math.max(...values) - Math.min(...values)) / average) * 100;
}

/** What the repeats of one direction still ask for. */
export interface Repeats {
  readonly mean: number | null;
  readonly spread: number | null;
  /** How many more are wanted before going on. */
  readonly missing: number;
  /** The spread is wide: rest, then one more. */
  readonly oneMore: boolean;
}

export function judgeRepeats(values: readonly number[], unit: ForceUnit, wanted = wantedRepeats): Repeats {
  const spread = spreadPercent(values);
  const average = mean(values);
  const limit = toGramForce(average, unit) < weakGramForce ? wideSpreadWeak : wideSpread;
  const missing = Math.max(0, wanted - values.length);
  return {
    mean: values.length === 0 ? null : average,
    spread,
    missing,
    oneMore: missing === 0 && values.length < mostRepeats && spread !== null && spread > limit,
  };
}

/** Places of the readings that are over twice or under half of the median; none below three readings. */
export function oddOnes(values: readonly number[]): readonly number[] {
  if (values.length < 3) return [];
  const middle = median(values);
  return values.flatMap((value, index) => (value > 2 * middle || value < middle / 2 ? [index] : []));
}

/**
 * The direction to measure next: the present one until it has enough, then the
 * first in order that has too few; the present one when all have.
 */
export function nextDirection(order: readonly string[], counts: Readonly<Record<string, number>>, now: string, wanted: number): string {
  if ((counts[now] ?? 0) < wanted) return now;
  return order.find((direction) => (counts[direction] ?? 0) < wanted) ?? now;
}
