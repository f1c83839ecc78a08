/** Force units that a gauge may show. The visit is locked to one of them. */
export type ForceUnit = 'gf' | 'N' | 'ozf' | 'lbf';

interface UnitFacts {
  readonly name: string;
  /** Digits after the point that the pad takes. */
  readonly decimals: number;
}

// How large a unit is, only the engine knows.
const facts: Readonly<Record<ForceUnit, UnitFacts>> = {
  gf: { name: 'gram-force', decimals: 1 },
  N: { name: 'newton', decimals: 3 },
  ozf: { name: 'ounce-force', decimals: 3 },
  lbf: { name: 'pound-force', decimals: 4 },
};

/** All units, in the order in which they are offered. */
export const forceUnits: readonly ForceUnit[] = ['gf', 'N', 'ozf', 'lbf'];

/** The visit's unit; anything else is shown as gram-force. */
export function forceUnit(unit: string): ForceUnit {
  return forceUnits.find((one) => one === unit) ?? 'gf';
}

export function unitName(unit: ForceUnit): string {
  return facts[unit].name;
}

export function unitDecimals(unit: ForceUnit): number {
  return facts[unit].decimals;
}
