/** Checks that the schemas share. Each is one function: the library's own, piped, weigh more than all of these. */
import * as v from 'valibot';

/** A whole number from `least` to `most`. */
export const whole = (least: number, most = Number.MAX_SAFE_INTEGER) => v.custom<number>(
  (value) => Number.isSafeInteger(value) && Number(value) >= least && Number(value) <= most,
  `Expected a whole number from ${least} to ${most}.`,
);

/** A position, a count, or the number of something: 0 and up. */
export const count = whole(0);

type Choices = Readonly<Record<string, v.GenericSchema>>;

/** Of several shapes the one that the field `by` names; a name that there is not is refused. */
export const oneOf = <T extends Choices>(by: string, shapes: T): v.GenericSchema<unknown, v.InferOutput<T[keyof T]>> => v.lazy((value) => {
  const name = (value as Readonly<Record<string, unknown>> | null)?.[by];
  return typeof name === 'string' && Object.hasOwn(shapes, name) ? shapes[name] as T[keyof T] : v.never();
}) as v.GenericSchema<unknown, v.InferOutput<T[keyof T]>>;

/** A text that says something. */
export const named = v.custom<string>((value) => typeof value === 'string' && value !== '', 'Expected a text, got none.');
