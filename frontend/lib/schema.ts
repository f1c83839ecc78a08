/**
 * Shapes of what comes from outside: the server's answers, and rows from the
 * disk. A shape returns the value as its type, or throws a ShapeError.
 */

export type Shape<T> = (value: unknown) => T;
/** The type that a shape returns. */
export type Of<S> = S extends Shape<infer T> ? T : never;

export class ShapeError extends Error {}

/** What a test accepts, as it is. */
export const like =
  <T>(test: (value: unknown) => boolean, what: string): Shape<T> =>
  (value) => {
    if (!test(value)) throw new ShapeError(`Expected ${what}.`);
    return value as T;
  };

const ofType = <T>(type: string) => like<T>((value) => typeof value === type, type);
export const string = ofType<string>('string');
export const number = like<number>(Number.isFinite, 'number');
export const boolean = ofType<boolean>('boolean');
export const unknown = like<unknown>((value) => value !== undefined, 'something');
export const bytes = like<Uint8Array<ArrayBuffer>>((value) => value instanceof Uint8Array, 'bytes');

/** One of these values. */
export const among = <const T extends string | number>(...all: readonly T[]) =>
  like<T>((value) => all.includes(value as T), all.join(' or '));

/** A text that says something. */
export const named = like<string>((value) => typeof value === 'string' && value !== '', 'a text');

/** A whole number from `least` to `most`. */
export const whole = (least: number, most = Number.MAX_SAFE_INTEGER) =>
  like<number>(
    (value) => Number.isSafeInteger(value) && Number(value) >= least && Number(value) <= most,
    `a whole number from ${least} to ${most}`,
  );

/** A position, a count, or the number of something: 0 and up. */
export const count = whole(0);

const isObject = like<Readonly<Record<string, unknown>>>((value) => typeof value === 'object' && value !== null, 'an object');
const isArray = like<readonly unknown[]>(Array.isArray, 'a list');

type Fields = Readonly<Record<string, Shape<unknown>>>;
/** The fields that may be left out. */
type May<F extends Fields> = { [K in keyof F]: unknown extends Of<F[K]> ? never : undefined extends Of<F[K]> ? K : never }[keyof F];
type Whole<T> = { [K in keyof T]: T[K] };
type Made<F extends Fields> = Whole<{ [K in Exclude<keyof F, May<F>>]: Of<F[K]> } & { [K in May<F>]?: Of<F[K]> }>;

/** An object with these fields; any others stay out of it. */
export const object =
  <F extends Fields>(fields: F): Shape<Made<F>> =>
  (value) => {
    const from = isObject(value);
    const made = Object.keys(fields).map((name) => [name, fields[name]?.(from[name])]);
    return Object.fromEntries(made.filter(([, one]) => one !== undefined)) as Made<F>;
  };

/** An object with these fields, and whatever else it has. */
export const atLeast = <F extends Fields>(fields: F): Shape<Made<F>> => {
  const known = object(fields);
  return (value) => ({ ...isObject(value), ...known(value) });
};

export const list =
  <T>(item: Shape<T>): Shape<T[]> =>
  (value) =>
    isArray(value).map(item);

export const optional =
  <T>(shape: Shape<T>): Shape<T | undefined> =>
  (value) =>
    value === undefined ? undefined : shape(value);

/** May be null or left out, which is then what `none` says. */
export const orNone =
  <T, N>(shape: Shape<T>, none: N): Shape<T | N> =>
  (value) =>
    value === undefined || value === null ? none : shape(value);

/** What is of another shape counts as `other`. */
export const orElse =
  <T, E>(shape: Shape<T>, other: E): Shape<T | E> =>
  (value) => {
    try {
      return shape(value);
    } catch {
      return other;
    }
  };

/** The value in its shape, or undefined when it has another. */
export const fitting = <T>(shape: Shape<T>, value: unknown): T | undefined => orElse(shape, undefined)(value);

/** Of several shapes the one that the field `by` names; a name that there is not is refused. */
export const oneOf =
  <T extends Fields>(by: string, shapes: T): Shape<Of<T[keyof T]>> =>
  (value) => {
    const name = isObject(value)[by];
    const shape = typeof name === 'string' && Object.hasOwn(shapes, name) ? shapes[name] : undefined;
    if (shape === undefined) throw new ShapeError(`Expected another ${by}.`);
    return shape(value) as Of<T[keyof T]>;
  };
