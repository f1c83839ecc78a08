/**
 * Schemas of what comes from outside: the server's answers, and rows from the
 * disk. A schema returns the value as its type, or throws a SchemaError.
 */

export type Schema<T> = (value: unknown) => T;
/** The type that a schema returns. */
export type Infer<S> = S extends Schema<infer T> ? T : never;

export class SchemaError extends Error {}

/** What a test accepts, as it is. */
export const custom =
  <T>(test: (value: unknown) => boolean, what: string): Schema<T> =>
  (value) => {
    if (!test(value)) throw new SchemaError(`Expected ${what}.`);
    return value as T;
  };

const ofType = <T>(type: string) => custom<T>((value) => typeof value === type, type);
export const string = ofType<string>('string');
export const number = custom<number>(Number.isFinite, 'number');
export const boolean = ofType<boolean>('boolean');
export const unknown = custom<unknown>((value) => value !== undefined, 'something');
export const bytes = custom<Uint8Array<ArrayBuffer>>((value) => value instanceof Uint8Array, 'bytes');

/** One of these values. */
export const literal = <const T extends string | number>(...all: readonly T[]) =>
  custom<T>((value) => all.includes(value as T), all.join(' or '));

/** A text that says something. */
export const nonEmpty = custom<string>((value) => typeof value === 'string' && value !== '', 'a text');

/** A whole number from `least` to `most`. */
export const int = (least: number, most = Number.MAX_SAFE_INTEGER) =>
  custom<number>(
    (value) => Number.isSafeInteger(value) && Number(value) >= least && Number(value) <= most,
    `a whole number from ${least} to ${most}`,
  );

/** A position, a count, or the number of something: 0 and up. */
export const count = int(0);

const isObject = custom<Readonly<Record<string, unknown>>>((value) => typeof value === 'object' && value !== null, 'an object');
const isArray = custom<readonly unknown[]>(Array.isArray, 'a list');

type Fields = Readonly<Record<string, Schema<unknown>>>;
/** The fields that may be left out. */
type May<F extends Fields> = { [K in keyof F]: unknown extends Infer<F[K]> ? never : undefined extends Infer<F[K]> ? K : never }[keyof F];
type Whole<T> = { [K in keyof T]: T[K] };
type Made<F extends Fields> = Whole<{ [K in Exclude<keyof F, May<F>>]: Infer<F[K]> } & { [K in May<F>]?: Infer<F[K]> }>;

/** An object with these fields; any others stay out of it. */
export const object =
  <F extends Fields>(fields: F): Schema<Made<F>> =>
  (value) => {
    const from = isObject(value);
    const made = Object.keys(fields).map((name) => [name, fields[name]?.(from[name])]);
    return Object.fromEntries(made.filter(([, one]) => one !== undefined)) as Made<F>;
  };

export const list =
  <T>(item: Schema<T>): Schema<T[]> =>
  (value) =>
    isArray(value).map(item);

export const optional =
  <T>(schema: Schema<T>): Schema<T | undefined> =>
  (value) =>
    value === undefined ? undefined : schema(value);

/** May be null or left out, which is then what `none` says. */
export const nullish =
  <T, N>(schema: Schema<T>, none: N): Schema<T | N> =>
  (value) =>
    value === undefined || value === null ? none : schema(value);

/** What is of another schema counts as `other`. */
export const fallback =
  <T, E>(schema: Schema<T>, other: E): Schema<T | E> =>
  (value) => {
    try {
      return schema(value);
    } catch {
      return other;
    }
  };

/** The value in its schema, or undefined when it has another. */
export const tryParse = <T>(schema: Schema<T>, value: unknown): T | undefined => fallback(schema, undefined)(value);

/** Of several schemas the one that the field `by` names; a name that there is not is refused. */
export const union =
  <T extends Fields>(by: string, schemas: T): Schema<Infer<T[keyof T]>> =>
  (value) => {
    const name = isObject(value)[by];
    const schema = typeof name === 'string' && Object.hasOwn(schemas, name) ? schemas[name] : undefined;
    if (schema === undefined) throw new SchemaError(`Expected another ${by}.`);
    return schema(value) as Infer<T[keyof T]>;
  };
