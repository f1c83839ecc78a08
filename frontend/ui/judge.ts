import type { Plausibility } from '../lib';
import { forceUnits, unitDecimals, type ForceUnit } from './units';

/** What is measured, where, in which unit. */
export interface Measured {
  readonly what: string;
  readonly site: string;
  readonly unit: string;
}

/** A value that is possible but unusual, with what may have been meant. */
export interface Asked {
  readonly value: number;
  readonly sentence: string;
  readonly suggestion: number | null;
}

export type Judged =
  { readonly kind: 'ok' } | { readonly kind: 'refuse'; readonly sentence: string } | { readonly kind: 'ask'; readonly asked: Asked };

/** What a judgement asks of the engine. */
export interface Judge {
  readonly plausible: (what: string, site: string, value: number, unit: string) => Promise<Plausibility>;
  readonly convert: (values: readonly number[], from: string, to: string) => Promise<readonly number[]>;
}

function isForceUnit(unit: string): unit is ForceUnit {
  return (forceUnits as readonly string[]).includes(unit);
}

/** A suggestion such as "153 gf" as a number in the visit's unit. */
export async function suggestionIn(text: string | undefined, unit: string, convert: Judge['convert']): Promise<number | null> {
  const [number = '', named = ''] = (text ?? '').split(' ');
  const value = Number(number);
  if (number === '' || number === '-' || !Number.isFinite(value)) return null;
  if (named === unit || named === '') return value;
  if (!isForceUnit(named) || !isForceUnit(unit)) return null;
  const [converted] = await convert([value], named, unit);
  return converted === undefined ? null : Number(converted.toFixed(unitDecimals(unit)));
}

/**
 * Judges a value before it is saved. Where the engine has no better idea, a
 * digit too many is offered: 4200 may have been 420. When the engine is not
 * there the value passes, and the server still checks it.
 */
export async function judge(measured: Measured, value: number, ask: Judge): Promise<Judged> {
  const { what, site, unit } = measured;
  try {
    const answer = await ask.plausible(what, site, value, unit);
    if (answer.kind === 'ok') return { kind: 'ok' };
    if (answer.kind === 'refuse') return { kind: 'refuse', sentence: answer.sentence };
    const named = await suggestionIn(answer.suggestion, unit, ask.convert);
    return { kind: 'ask', asked: { value, sentence: answer.sentence, suggestion: named ?? (await tenth(measured, value, ask)) } };
  } catch {
    return { kind: 'ok' };
  }
}

async function tenth(measured: Measured, value: number, ask: Judge): Promise<number | null> {
  const less = Number((value / 10).toFixed(4));
  if (less === 0) return null;
  return (await ask.plausible(measured.what, measured.site, less, measured.unit)).kind === 'ok' ? less : null;
}
