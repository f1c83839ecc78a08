/** The engine's answer about change over visits and the weeks left, read from its text. */

export type Direction = 'up' | 'down' | 'same' | 'mixed';

/** How one figure moved between two visits that follow one another. */
export interface Change {
  readonly figure: string;
  /** Days since 1 January 1970. */
  readonly from: number;
  readonly to: number;
  readonly direction: Direction;
  readonly sentence: string;
}

/** What was not the same at two visits. */
export interface Differing {
  readonly from: number;
  readonly to: number;
  readonly names: readonly string[];
}

/** The line that a forecast rests on: gf a week, and the force on the line at the last visit. */
export interface Line {
  readonly source: string;
  readonly slope: number;
  readonly low: number;
  readonly high: number;
  readonly at: number;
}

/** When a reserve may be reached; weeks from the last visit, null when that is not in sight. */
export interface Reach {
  readonly reserve: number;
  readonly already: boolean;
  readonly early: number | null;
  readonly late: number | null;
  readonly sentence: string;
}

/** When to look again, and whether the ordinary interval or the forecast set the date. */
export interface Look {
  /** Days since 1 January 1970. */
  readonly day: number;
  readonly byForecast: boolean;
  readonly sentence: string;
}

export interface Basis {
  readonly formula: string;
  readonly source: string;
  readonly status: string;
}

export interface TrendView {
  readonly changes: readonly Change[];
  readonly differing: readonly Differing[];
  /** Forces that count, by day. */
  readonly usable: readonly (readonly [day: number, force: number])[];
  readonly line: Line | null;
  readonly reaches: readonly Reach[];
  readonly look: Look | null;
  readonly says: readonly string[];
  readonly advice: readonly string[];
  readonly notes: readonly string[];
  readonly bases: readonly Basis[];
}

/** A decimal of the engine; null for "-" and what is no number. */
function decimal(text: string | undefined): number | null {
  if (text === undefined || text === '' || text === '-') return null;
  const value = Number(text);
  return Number.isFinite(value) ? value : null;
}

function directionOf(word: string | undefined): Direction {
  return word === 'up' || word === 'down' || word === 'mixed' ? word : 'same';
}

function lineOf(fields: readonly string[]): Line | null {
  const [source = '', ...numbers] = fields;
  const [slope, low, high, at] = numbers.map(decimal);
  if (slope == null || low == null || high == null || at == null) return null;
  return { source, slope, low, high, at };
}

/** Reads the answer; lines of kinds that this program does not know are passed over. */
export function parseTrend(text: string): TrendView {
  const fields = text.split('\n').map((row) => row.split('\t'));
  const of = (kind: string): readonly (readonly string[])[] => fields.filter((row) => row[0] === kind).map((row) => row.slice(1));
  const sentences = (kind: string): readonly string[] => of(kind).flatMap(([sentence]) => (sentence ? [sentence] : []));
  return {
    changes: of('change').map(([figure = '', from, to, direction, sentence = '']) => ({
      figure,
      from: Number(from),
      to: Number(to),
      direction: directionOf(direction),
      sentence,
    })),
    differing: of('conditions').map(([from, to, names = '']) => ({
      from: Number(from),
      to: Number(to),
      names: names.split(', ').filter((name) => name !== ''),
    })),
    usable: of('usable').map(([day, force]) => [Number(day), Number(force)] as const),
    line: of('line').map(lineOf)[0] ?? null,
    reaches: of('weeks').map(([reserve, already, , early, late, sentence = '']) => ({
      reserve: Number(reserve),
      already: already === '1',
      early: decimal(early),
      late: decimal(late),
      sentence,
    })),
    look: of('recheck-by').map(([day, , by, sentence = '']) => ({ day: Number(day), byForecast: by === 'forecast', sentence }))[0] ?? null,
    says: sentences('say'),
    advice: sentences('advice'),
    notes: sentences('note'),
    bases: of('basis').map(([formula = '', source = '', status = '']) => ({ formula, source, status })),
  };
}
