/**
 * What comes from a keyboard, a keypad or a gauge that types: a person leaves gaps
 * between keys, a gauge sends a whole reading within a few milliseconds.
 */

/** After a silence as long as this, in milliseconds, something new begins. */
const silence = 600;
/** No person types several keys with less between them than this, on average. */
const quickest = 60;

/** The keys that came without a silence between them, and the place in the text where they began. */
export interface Burst {
  readonly from: number;
  readonly keys: number;
  readonly first: number;
  readonly last: number;
}

export const noBurst: Burst = { from: 0, keys: 0, first: Number.NEGATIVE_INFINITY, last: Number.NEGATIVE_INFINITY };

/** One more key at a time in milliseconds, before which the text was so long. */
export function typedKey(burst: Burst, at: number, length: number): Burst {
  if (at - burst.last > silence) return { from: length, keys: 1, first: at, last: at };
  return { ...burst, from: Math.min(burst.from, length), keys: burst.keys + 1, last: at };
}

/** A gauge has typed the end of the text, and ends its reading now. */
export function isBurst({ keys, first, last }: Burst, at: number): boolean {
  return keys > 1 && (last - first) / (keys - 1) <= quickest && at - last <= silence;
}

/** The reading that a gauge ends, and what a person had begun to type before it came. */
export function splitBurst(text: string, burst: Burst, at: number): { readonly reading: string; readonly begun: string } {
  if (!isBurst(burst, at) || burst.from === 0) return { reading: text, begun: '' };
  return { reading: text.slice(burst.from), begun: text.slice(0, burst.from) };
}

/** A reading without what gauges put around it: spaces, a plus, the unit of the visit. */
export function gaugeText(text: string, unit: string): string {
  const bare = text.trim().replace(/^\+/, '').trim();
  return bare.toLowerCase().endsWith(unit.toLowerCase()) ? bare.slice(0, -unit.length).trim() : bare;
}

/** A key that belongs to a number: a digit, a decimal point or a decimal comma. */
export function isNumberKey(event: Pick<KeyboardEvent, 'key' | 'ctrlKey' | 'metaKey' | 'altKey'>): boolean {
  return /^[0-9.,]$/.test(event.key) && !event.ctrlKey && !event.metaKey && !event.altKey;
}
