type Fields = Readonly<Record<string, unknown>>;

export function isFields(value: unknown): value is Fields {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

export function same(a: unknown, b: unknown): boolean {
  return Object.is(a, b) || JSON.stringify(a) === JSON.stringify(b);
}

/** Whether a value read from a draft can stand where this one does: a draft may be of an older program. */
function fits(mine: unknown, theirs: unknown): boolean {
  if (theirs === null || theirs === undefined) return true;
  return typeof mine === typeof theirs && Array.isArray(mine) === Array.isArray(theirs);
}

/**
 * What a form shows: its own where somebody changed it, field by field, and what is
 * saved everywhere else. `before` is what was saved when they began.
 */
export function merge<T>(before: unknown, mine: unknown, theirs: T): T {
  if (!fits(mine, theirs)) return theirs;
  if (!isFields(mine) || !isFields(theirs)) return same(mine, before) ? theirs : (mine as T);
  const began = isFields(before) ? before : {};
  const keys = [...new Set([...Object.keys(theirs), ...Object.keys(mine)])];
  return Object.fromEntries(
    keys.flatMap((key) => {
      if (!(key in mine)) return key in began ? [] : [[key, theirs[key]]];
      if (!(key in theirs)) return same(mine[key], began[key]) ? [] : [[key, mine[key]]];
      return [[key, merge(began[key], mine[key], theirs[key])]];
    }),
  ) as T;
}

/** Whether somebody else saved another value of what was changed here. */
export function apart(before: unknown, mine: unknown, theirs: unknown): boolean {
  if (isFields(mine) && isFields(theirs)) {
    const began = isFields(before) ? before : {};
    return Object.keys(mine).some((key) => key in theirs && apart(began[key], mine[key], theirs[key]));
  }
  return !same(mine, before) && !same(theirs, before) && !same(mine, theirs);
}

/** The fields in which two values differ, each by its names from the outside in; the empty name for the whole. */
export function fieldsApart(a: unknown, b: unknown, at: readonly string[] = []): readonly string[] {
  if (same(a, b)) return [];
  if (!isFields(a) || !isFields(b)) return [JSON.stringify(at)];
  return [...new Set([...Object.keys(a), ...Object.keys(b)])].flatMap((key) => fieldsApart(a[key], b[key], [...at, key]));
}

/** A value with these fields as another has them. */
export function withFieldsOf<T>(value: T, other: unknown, fields: ReadonlySet<string>, at: readonly string[] = []): T {
  if (fields.has(JSON.stringify(at))) return other as T;
  if (!isFields(value) || !isFields(other)) return value;
  return Object.fromEntries(
    Object.entries(value).map(([key, one]) => [key, withFieldsOf<unknown>(one, other[key], fields, [...at, key])]),
  ) as T;
}
