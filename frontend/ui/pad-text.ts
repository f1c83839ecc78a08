/** A key of the number pad. */
export type PadKey = '0' | '1' | '2' | '3' | '4' | '5' | '6' | '7' | '8' | '9' | 'point' | 'back';

const longest = 8;

/** What the pad shows after one more key. Keys that make no sense change nothing. */
export function padPress(text: string, key: PadKey, decimals: number): string {
  if (key === 'back') return text.slice(0, -1);
  if (key === 'point') return pressPoint(text, decimals);
  if (text.length >= longest) return text;
  const point = text.indexOf('.');
  if (point >= 0 && text.length - point > decimals) return text;
  return text === '0' ? key : text + key;
}

function pressPoint(text: string, decimals: number): string {
  if (decimals === 0 || text.includes('.')) return text;
  return text === '' ? '0.' : `${text}.`;
}

/** What somebody meant by what they typed: a number, nothing at all, or not a number. */
export type PadNumber =
  { readonly kind: 'blank' } | { readonly kind: 'number'; readonly value: number } | { readonly kind: 'wrong'; readonly message: string };

/**
 * Reads a typed number. A comma is a decimal point here; exponents, grouping
 * and, unless `signed`, a minus are refused, because "1,000" and "1.000" mean different things in
 * different countries.
 */
export function readNumber(text: string, decimals: number, signed = false): PadNumber {
  const plain = text.trim().replace(',', '.').replace('−', '-');
  if (plain === '') return { kind: 'blank' };
  if (!(signed ? /^-?(\d+\.?\d*|\.\d+)$/ : /^(\d+\.?\d*|\.\d+)$/).test(plain)) {
    return { kind: 'wrong', message: `Expected a number such as ${decimals > 0 ? '12.5' : '12'}, got "${text.trim()}".` };
  }
  const places = plain.split('.')[1] ?? '';
  if (places.length > decimals) {
    const allowed = decimals === 0 ? 'a whole number' : `at most ${decimals} digit${decimals === 1 ? '' : 's'} after the point`;
    return { kind: 'wrong', message: `Expected ${allowed}, got "${text.trim()}".` };
  }
  return { kind: 'number', value: Number(plain) };
}
