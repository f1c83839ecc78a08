/** Bytes as the browser's crypto takes them: backed by a plain buffer. */
export type Bytes = Uint8Array<ArrayBuffer>;

const encoder = new TextEncoder();
const decoder = new TextDecoder('utf-8', { fatal: true });

export function toBytes(text: string): Bytes {
  return encoder.encode(text);
}

/** Throws when the bytes are not UTF-8. */
export function toText(bytes: Uint8Array): string {
  return decoder.decode(bytes);
}

export function randomBytes(count: number): Bytes {
  return crypto.getRandomValues(new Uint8Array(count));
}

export async function sha256(bytes: Bytes): Promise<string> {
  const sum = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
  return Array.from(sum, (byte) => byte.toString(16).padStart(2, '0')).join('');
}

export function join(parts: readonly Uint8Array[]): Bytes {
  const whole = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}

const alphabet = 'abcdefghijklmnopqrstuvwxyz234567';

/** 128 random bits in base 32: 26 small letters and digits. */
export function newId(): string {
  let bits = 0;
  let held = 0;
  let id = '';
  for (const byte of randomBytes(16)) {
    held = (held << 8) | byte;
    bits += 8;
    while (bits >= 5) {
      bits -= 5;
      id += alphabet[(held >> bits) & 31];
    }
    held &= (1 << bits) - 1;
  }
  return id + alphabet[(held << (5 - bits)) & 31];
}

export function sameBytes(a: Uint8Array, b: Uint8Array): boolean {
  return a.length === b.length && a.every((byte, at) => byte === b[at]);
}
