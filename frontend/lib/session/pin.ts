/**
 * A PIN brings back a session whose keys are still in this page's memory. It
 * opens nothing on the disk and is written nowhere: six digits would fall in
 * hours to whoever has a copy.
 */
import { randomBytes } from '../bytes';
import { pbkdf2 } from '../crypto/derive';
import { StoreError } from '../errors';
import { sameBytes } from './key-store';

export type PinCheck = (pin: string) => Promise<boolean>;

const ROUNDS = 600_000;

/** Remembers a PIN for this page; StoreError when it is not one. */
export async function createPin(pin: string): Promise<PinCheck> {
  if (!/^\d{6,12}$/.test(pin)) throw new StoreError('refused', 'PIN: expected 6 to 12 digits.');
  if (/^(\d)\1*$/.test(pin)) throw new StoreError('refused', 'PIN: expected digits that are not all the same.');
  const salt = randomBytes(16);
  const want = await pbkdf2(pin, salt, ROUNDS);
  return async (typed) => sameBytes(await pbkdf2(typed, salt, ROUNDS), want);
}
