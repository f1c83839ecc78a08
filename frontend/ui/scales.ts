/** From a value to a place on paper. */
export interface Scale {
  /** The place; a value beyond the scale is put on its edge. */
  readonly at: (value: number) => number;
  readonly ticks: readonly number[];
  readonly low: number;
  readonly high: number;
}

/** Where a scale begins and ends on paper; the end may be the smaller one. */
export interface Span {
  readonly from: number;
  readonly to: number;
}

const within = (value: number, low: number, high: number) => Math.min(high, Math.max(low, value));

/** 1, 2 and 5 of every power of ten from at most `low` to at least `high`. */
function steps(low: number, high: number): readonly number[] {
  const all: number[] = [];
  for (let power = Math.floor(Math.log10(low)); power <= Math.ceil(Math.log10(high)); power++) {
    for (const lead of [1, 2, 5]) all.push(Number(`${lead}e${power}`));
  }
  const first = all.findLastIndex((one) => one <= low);
  const last = all.findIndex((one) => one >= high);
  return all.slice(first, last + 1);
}

/** A scale on which each tenfold is as long as the next, widened to whole ticks. Needs 0 < low < high. */
export function logScale(low: number, high: number, span: Span): Scale {
  const ticks = steps(low, high);
  const [first = low, last = high] = [ticks[0], ticks.at(-1)];
  const whole = Math.log10(last) - Math.log10(first);
  return {
    ticks,
    low: first,
    high: last,
    at: (value) => span.from + ((Math.log10(within(value, first, last)) - Math.log10(first)) / whole) * (span.to - span.from),
  };
}

/** An even scale from 0, widened to whole ticks. Needs high > 0. */
export function evenScale(high: number, span: Span, wanted = 5): Scale {
  const step = steps(high / wanted, high).find((one) => one * wanted >= high) ?? high;
  const count = Math.ceil(high / step - 1e-9);
  const ticks = Array.from({ length: count + 1 }, (_, at) => Number((at * step).toPrecision(12)));
  const last = ticks.at(-1) ?? high;
  return { ticks, low: 0, high: last, at: (value) => span.from + (within(value, 0, last) / last) * (span.to - span.from) };
}

export interface Label {
  readonly x: number;
  readonly y: number;
  readonly width: number;
}

/**
 * Moves labels apart: the places (y) at which none lies on another, each as
 * little below its own as can be. `high` is the height of one label.
 */
export function apart(labels: readonly Label[], high: number): readonly number[] {
  const places: number[] = labels.map((label) => label.y);
  const order = labels.map((_, at) => at).sort((a, b) => (labels[a]?.y ?? 0) - (labels[b]?.y ?? 0));
  const set: number[] = [];
  for (const at of order) {
    const label = labels[at];
    if (label === undefined) continue;
    const beside = set
      .filter((other) => {
        const one = labels[other];
        return one !== undefined && one.x < label.x + label.width && label.x < one.x + one.width;
      })
      .map((other) => places[other] ?? 0)
      .sort((a, b) => a - b);
    let y = label.y;
    for (const taken of beside) if (Math.abs(taken - y) < high) y = taken + high;
    places[at] = y;
    set.push(at);
  }
  return places;
}

/** Places in one column at which labels of a height do not lie on each other, each group around the middle of its own. */
export function spread(wanted: readonly number[], high: number): readonly number[] {
  const order = wanted.map((_, at) => at).sort((a, b) => (wanted[a] ?? 0) - (wanted[b] ?? 0));
  const groups: { readonly of: number[]; first: number }[] = [];
  const middle = (of: readonly number[]) => of.reduce((sum, at, n) => sum + (wanted[at] ?? 0) - n * high, 0) / of.length;
  for (const at of order) {
    let group = { of: [at], first: wanted[at] ?? 0 };
    for (let above = groups.at(-1); above && above.first + above.of.length * high > group.first; above = groups.at(-1)) {
      groups.pop();
      const of = [...above.of, ...group.of];
      group = { of, first: middle(of) };
    }
    groups.push(group);
  }
  const places: number[] = [];
  for (const { of, first } of groups)
    of.forEach((at, n) => {
      places[at] = first + n * high;
    });
  return places;
}
