/** Force units that a gauge may show. The visit is locked to one of them. */
export type ForceUnit = 'gf' | 'N' | 'ozf' | 'lbf';

interface UnitFacts {
  readonly name: string;
  /** Gram-force in one of the unit. */
  readonly gramForce: number;
  /** Digits after the point that the pad takes. */
  readonly decimals: number;
}

// 1 gf is 9.80665 mN exactly; the avoirdupois pound is 453.59237 g exactly.
const facts: Readonly<Record<ForceUnit, UnitFacts>> = {
  gf: { name: 'gram-force', gramForce: 1, decimals: 1 },
  N: { name: 'newton', gramForce: 1000 / 9.80665, decimals: 3 },
  ozf: { name: 'ounce-force', gramForce: 453.59237 / 16, decimals: 3 },
  lbf: { name: 'pound-force', gramForce: 453.59237, decimals: 4 },
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

/** A force in gram-force, rounded to a thousandth. */
export function toGramForce(value: number, unit: ForceUnit): number {
  return Number((value * facts[unit].gramForce).toFixed(3));
}

/** A force in the visit's unit, rounded to what the pad takes. */
export function fromGramForce(gramForce: number, unit: ForceUnit): number {
  return Number((gramForce / facts[unit].gramForce).toFixed(facts[unit].decimals));
}
