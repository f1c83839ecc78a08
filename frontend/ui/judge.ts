import { forceUnits, type ForceUnit, type Plausibility, type PlausibleQuestion } from '../lib/model.gen';
import { atMost } from '../lib/patience';
import { unitDecimals } from './units';
import { sentenceOf } from './words';

/** What is measured, where, in which unit. */
export type Measured = Omit<PlausibleQuestion, 'value'>;

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
  readonly plausible: (question: PlausibleQuestion) => Promise<Plausibility>;
  readonly convert: (values: readonly number[], from: string, to: string) => Promise<readonly number[]>;
}

function isForceUnit(unit: string): unit is ForceUnit {
  return (forceUnits as readonly string[]).includes(unit);
}

/** A suggestion such as 153 gf as a number in the visit's unit. */
export async function suggestionIn(of: Plausibility, unit: string, convert: Judge['convert']): Promise<number | null> {
  const { suggestion: value, suggestion_unit: named = '' } = of;
  if (value === undefined) return null;
  if (named === unit || named === '') return value;
  if (!isForceUnit(named) || !isForceUnit(unit)) return null;
  const [converted] = await convert([value], named, unit);
  return converted === undefined ? null : Number(converted.toFixed(unitDecimals(unit)));
}

/** How long a tap waits for the engine. */
const patienceMs = 1_000;

/**
 * Judges a value before it is saved. When the engine is not there, or is slow, the
 * value passes, and the server still checks it.
 */
export async function judge(measured: Measured, value: number, ask: Judge): Promise<Judged> {
  return (await atMost(patienceMs, verdict(measured, value, ask))) ?? { kind: 'ok' };
}

/** Where the engine has no better idea, a digit too many is offered: 4200 may have been 420. */
async function verdict(measured: Measured, value: number, ask: Judge): Promise<Judged> {
  try {
    const answer = await ask.plausible({ ...measured, value });
    if (answer.verdict === 'ok') return { kind: 'ok' };
    const sentence = sentenceOf(answer.message);
    if (answer.verdict === 'refuse') return { kind: 'refuse', sentence };
    const named = await suggestionIn(answer, measured.unit, ask.convert);
    return { kind: 'ask', asked: { value, sentence, suggestion: named ?? (await tenth(measured, value, ask)) } };
  } catch {
    return { kind: 'ok' };
  }
}

async function tenth(measured: Measured, value: number, ask: Judge): Promise<number | null> {
  const less = Number((value / 10).toFixed(4));
  if (less === 0) return null;
  return (await ask.plausible({ ...measured, value: less })).verdict === 'ok' ? less : null;
}
