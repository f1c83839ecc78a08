import { randomBytes, sameBytes } from '../bytes';
import { pbkdf2 } from '../crypto/derive';
import { StoreError } from '../errors';
import type { Pin } from './pin-vault';

const ROUNDS = 600_000;

/** Whether these digits are the PIN. */
export async function isPin(pin: Pin, typed: string): Promise<boolean> {
  return sameBytes(await pbkdf2(typed, pin.salt, ROUNDS), pin.want);
}

/** Remembers a PIN; StoreError when it is not one. */
export async function createPin(typed: string): Promise<Pin> {
  if (!/^\d{6,12}$/.test(typed)) throw new StoreError('refused', 'PIN: expected 6 to 12 digits.');
  if (/^(\d)\1*$/.test(typed)) throw new StoreError('refused', 'PIN: expected digits that are not all the same.');
  const salt = randomBytes(16);
  return { salt, want: await pbkdf2(typed, salt, ROUNDS) };
}
