/** Where a figure stands in a drawing on a logarithmic scale: only the drawing's own measure, nothing of the person's. */

/** What is drawn without any reading, by unit: from a very weak finger to a strong hand. */
const usual: Readonly<Record<string, readonly [low: number, high: number]>> = {
  gf: [10, 1000],
  N: [0.1, 10],
  ozf: [0.5, 50],
  lbf: [0.02, 2],
  mm: [1, 100],
};

export interface LogScale {
  readonly low: number;
  readonly high: number;
  /** Powers of ten within the scale. */
  readonly decades: readonly number[];
  /** From 0 at `low` to 1 at `high`; 0 for what is not above zero. */
  readonly at: (value: number) => number;
}

/** 1, 2 or 5 times a power of ten: the next at or below, or at or above. */
function round(value: number, up: boolean): number {
  const power = 10 ** Math.floor(Math.log10(value) + 1e-9);
  const steps = [1, 2, 5, 10].map((step) => Number((step * power).toPrecision(1)));
  const near = value * (up ? 1 - 1e-9 : 1 + 1e-9);
  return (up ? steps.find((step) => step >= near) : steps.findLast((step) => step <= near)) ?? value;
}

/** A scale that holds every value above zero, and at least what is usual in the unit. */
export function logScale(unit: string, values: readonly number[]): LogScale {
  const above = values.filter((value) => value > 0 && Number.isFinite(value));
  const [least, most] = usual[unit] ?? [1, 100];
  const low = round(Math.min(least, ...above), false);
  const high = round(Math.max(most, ...above), true);
  const span = Math.log10(high / low);
  const first = Math.ceil(Math.log10(low) - 1e-9);
  const decades = Array.from({ length: Math.floor(Math.log10(high) + 1e-9) - first + 1 }, (_, i) =>
    Number((10 ** (first + i)).toPrecision(1)),
  );
  return { low, high, decades, at: (value) => (value > low ? Math.min(1, Math.log10(value / low) / span) : 0) };
}
