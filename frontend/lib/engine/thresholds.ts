/** The engine's own table of limits: what it compares with, and where each number comes from. */

export interface Threshold {
  readonly id: string;
  readonly value: string;
  readonly unit: string;
  readonly source: string;
  /** Such as "proposal, not validated" or "common practice, no source". */
  readonly status: string;
}

/** Reads the table: one limit a line, TAB between id, value, unit, source and status. */
export function parseThresholds(text: string): readonly Threshold[] {
  return text
    .split('\n')
    .map((line) => line.split('\t'))
    .filter((fields) => fields.length >= 5)
    .map(([id = '', value = '', unit = '', source = '', ...status]) => ({
      id,
      value,
      unit: unit === '-' ? '' : unit,
      source: source === '-' ? '' : source,
      status: status.join(' '),
    }));
}
