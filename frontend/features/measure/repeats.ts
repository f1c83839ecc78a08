import { shortest } from '../../lib/engine/visit-text';
import type { Measurement } from './slots';

/** Readings of one slot and state, as the engine sums them up. */
export interface Series {
  readonly what: Measurement['what'];
  readonly unit: string;
  readonly values: readonly number[];
}

/** What the engine says of one series. */
export interface Standing {
  readonly count: number;
  /** The value that counts, in the series' unit; null for no reading. */
  readonly value: number | null;
  /** Percent; null where it has no meaning. */
  readonly spread: number | null;
  /** How many more are wanted. */
  readonly missing: number;
  /** The readings lie far apart: rest, then one more. */
  readonly more: boolean;
  /** Places, from 0, of readings far from the middle one. */
  readonly odd: readonly number[];
  readonly sentence: string;
}

/** The question to the engine: a line a series. */
export function seriesText(list: readonly Series[]): string {
  return list.map((one) => [one.what, one.unit, ...one.values.map(shortest)].join('\t')).join('\n');
}

function maybe(text: string | undefined): number | null {
  return text === undefined || text === '' || text === '-' ? null : Number(text);
}

/** The engine's answer, a standing for each series in order. */
export function readStandings(text: string): readonly Standing[] {
  return text
    .split('\n')
    .filter((line) => line !== '')
    .map((line) => {
      const [count, value, spread, missing, more, odd = '-', ...sentence] = line.split('\t');
      return {
        count: Number(count),
        value: maybe(value),
        spread: maybe(spread),
        missing: Number(missing),
        more: more === '1',
        odd: odd === '-' ? [] : odd.split(',').map(Number),
        sentence: sentence.join('\t'),
      };
    });
}
