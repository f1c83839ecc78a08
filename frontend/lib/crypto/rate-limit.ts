/**
 * Waits after wrong passwords. They slow down whoever has the tablet in their
 * hands; nothing is ever deleted because of them. What holds against a copied
 * disk is the cost of deriving the key.
 */
import { StoreError } from '../errors';
import * as v from '../schema';

/** Wrong tries in a row, and when the last one was, in ms of this tablet's clock. */
export const failedAttempts = v.object({
  count: v.int(1),
  at: v.number,
});
type FailedAttempts = v.Infer<typeof failedAttempts>;

/** Slips of the finger cost nothing. */
const FREE = 3;
const FIRST_MS = 5_000;
const LONGEST_MS = 15 * 60_000;

/** How long after so many wrong tries in a row the next one may be made; proposal, not validated. */
export function waitAfter(count: number): number {
  return count < FREE ? 0 : Math.min(LONGEST_MS, FIRST_MS * 2 ** Math.min(count - FREE, 30));
}

/**
 * What is left of the wait. A clock that was set back since begins the wait anew
 * and no more: it is never longer than the tries call for.
 */
export function remainingWait(
  tries: FailedAttempts | undefined,
  now: number,
): { readonly ms: number; readonly tries: FailedAttempts | undefined } {
  if (tries === undefined) return { ms: 0, tries };
  const at = Math.min(tries.at, now);
  return { ms: Math.max(0, at + waitAfter(tries.count) - now), tries: at === tries.at ? tries : { ...tries, at } };
}

export function countFailure(tries: FailedAttempts | undefined, now: number): FailedAttempts {
  return { count: (tries?.count ?? 0) + 1, at: now };
}

/** The refusal while a wait is on. */
export function rateLimited(ms: number): StoreError {
  const seconds = Math.ceil(ms / 1000);
  const words = seconds < 90 ? `${seconds} ${seconds === 1 ? 'second' : 'seconds'}` : `${Math.ceil(seconds / 60)} minutes`;
  return new StoreError('wait', `Too many wrong passwords. Try again in ${words}. Nothing on this tablet is lost.`);
}
