/** How fields are written in the text that the engine reads. */

/** No field holds a TAB or a line end; a control character in a damaged record becomes "?". */
export function line(...fields: readonly string[]): string {
  return fields.map((field) => field.replace(/[^ -\u{10ffff}]/gu, '?')).join('\t');
}

export function orDash(text: string | undefined): string {
  return text ? text : '-';
}

export function flag(on: boolean | undefined): string {
  return on ? '1' : '0';
}

/** The shortest decimal that reads back as the same number, never with an exponent. */
export function shortest(value: number): string {
  const text = String(value);
  const parts = /^(-?)(\d)(?:\.(\d+))?e([+-]\d+)$/.exec(text);
  if (!parts) return Object.is(value, -0) ? '0' : text;
  const [, sign = '', lead = '', rest = '', power = '0'] = parts;
  const digits = lead + rest;
  const point = 1 + Number(power);
  if (point <= 0) return `${sign}0.${'0'.repeat(-point)}${digits}`;
  return `${sign}${digits.padEnd(point, '0')}`;
}
