/** Figures that are typed into fields, with the range that a record takes. */
import { ranges, type NumberRange } from '../lib/model.gen';
import { readNumber } from './pad-text';

export interface FigureField<K extends string = string> {
  readonly key: K;
  readonly label: string;
  readonly unit: string;
  readonly least: number;
  readonly most: number;
  readonly decimals?: number | undefined;
  /** A blank is an error; otherwise it is saved as 0, not measured. */
  readonly needed?: boolean | undefined;
  readonly hint?: string | undefined;
  /** Values that are often right, each a touch away while the field is empty. */
  readonly often?: readonly string[] | undefined;
}

type Ranges = typeof ranges;

/** A field for a figure of an event, with the range that records take of it where nothing else is said. */
export function figureField<Kind extends keyof Ranges, K extends keyof Ranges[Kind] & string>(
  kind: Kind,
  key: K,
  label: string,
  more: Partial<FigureField> = {},
): FigureField<K> {
  const { low, high = Number.MAX_SAFE_INTEGER, unit = '' } = ranges[kind][key] as NumberRange;
  return { label, unit, least: low, most: high, ...more, key };
}

/** What stands in the fields, by key. */
export type Typed = Readonly<Record<string, string>>;

/** What was saved, as text; 0 is not measured where a figure may be left out. */
export function typedOf(fields: readonly FigureField[], saved: object | undefined): Typed {
  const values = (saved ?? {}) as Readonly<Record<string, unknown>>;
  return Object.fromEntries(
    fields.map((field) => {
      const value = values[field.key];
      const blank = typeof value !== 'number' || (value === 0 && !field.needed);
      return [field.key, blank ? '' : String(value)];
    }),
  );
}

function wrongWith(field: FigureField, text: string): string | number {
  const decimals = field.decimals ?? 0;
  const read = readNumber(text, decimals, field.least < 0);
  const range = `Expected ${field.least} to ${field.most} ${field.unit}`;
  if (read.kind === 'wrong') return read.message;
  if (read.kind === 'blank') return field.needed ? `${range}, got nothing.` : 0;
  return read.value < field.least || read.value > field.most ? `${range}, got ${read.value}.` : read.value;
}

/** Needed fields that nothing was typed into, with their labels, by key. */
export function openFigures(fields: readonly FigureField[], typed: Typed): Typed {
  return Object.fromEntries(
    fields.filter((field) => field.needed && (typed[field.key] ?? '').trim() === '').map((field) => [field.key, `“${field.label}”`]),
  );
}

export interface ReadFigures<K extends string> {
  readonly values: Readonly<Record<K, number>>;
  /** By key; empty when all is well. */
  readonly errors: Typed;
}

/** Reads every field, naming what is wrong with each. */
export function readFigures<K extends string>(fields: readonly FigureField<K>[], typed: Typed): ReadFigures<K> {
  const read = fields.map((field) => [field.key, wrongWith(field, typed[field.key] ?? '')] as const);
  return {
    values: Object.fromEntries(read.map(([key, got]) => [key, typeof got === 'number' ? got : 0])) as Record<K, number>,
    errors: Object.fromEntries(read.filter((one): one is readonly [K, string] => typeof one[1] === 'string')),
  };
}
