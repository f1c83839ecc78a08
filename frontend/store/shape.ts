/** Checks that the schemas share. Each is one function: the library's own, piped, weigh more than all of these. */
import * as v from 'valibot';

/** A whole number from `least` to `most`. */
export const whole = (least: number, most = Number.MAX_SAFE_INTEGER) => v.custom<number>(
  (value) => Number.isSafeInteger(value) && Number(value) >= least && Number(value) <= most,
  `Expected a whole number from ${least} to ${most}.`,
);

/** A position, a count, or the number of something: 0 and up. */
export const count = whole(0);

/** A text that says something. */
export const named = v.custom<string>((value) => typeof value === 'string' && value !== '', 'Expected a text, got none.');
