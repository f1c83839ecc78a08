/** Force units that a gauge may show. The visit is locked to one of them. */
import { forceUnits, type ForceUnit } from '../lib/model.gen';

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
