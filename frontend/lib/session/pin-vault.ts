/**
 * Keys that a PIN brings back, in memory only: in the page, and in the service
 * worker, which outlives a reload of the page for as long as the browser lets it
 * run. It counts tries, ends by the clock, and gives the keys to the right PIN
 * alone. Nothing of it is ever written: six digits would fall in hours to whoever
 * has a copy.
 */
import type { Bytes } from '../bytes';

/** A PIN as it is remembered: what its digits derive to, and with which salt. */
export interface Pin {
  readonly salt: Bytes;
  readonly want: Bytes;
}

export const MOST_TRIES = 5;
/** How long after locking a PIN still works; proposal, not validated. */
export const RESUME_MS = 2 * 3_600_000;

export type Opened<T> =
  | { readonly kind: 'opened'; readonly what: T }
  /** Another PIN; when no try is left, nothing is held any more. */
  | { readonly kind: 'wrong'; readonly left: number }
  | { readonly kind: 'gone' };

export interface PinVault<T> {
  readonly keep: (pin: Pin, what: T) => void;
  /** The session was locked: from now on it is not held for longer than RESUME_MS. */
  readonly lock: () => void;
  readonly holds: () => boolean;
  /** Tries that were made elsewhere count here too. */
  readonly spend: (left: number) => void;
  readonly open: (typed: string) => Promise<Opened<T>>;
  readonly drop: () => void;
}

interface Held<T> {
  readonly pin: Pin;
  readonly what: T;
  readonly until: number;
  readonly left: number;
}

export function createPinVault<T>(now: () => number, matches: (pin: Pin, typed: string) => Promise<boolean>): PinVault<T> {
  let held: Held<T> | null = null;
  const holds = (): boolean => {
    // A clock that was set back does not make it last.
    if (held !== null && (now() > held.until || held.until - now() > RESUME_MS)) held = null;
    return held !== null;
  };
  return {
    keep: (pin, what) => {
      held = { pin, what, until: now() + RESUME_MS, left: MOST_TRIES };
    },
    lock: () => {
      if (held !== null) held = { ...held, until: now() + RESUME_MS };
    },
    holds,
    spend: (left) => {
      if (held !== null) held = left > 0 ? { ...held, left: Math.min(held.left, left) } : null;
    },
    open: async (typed) => {
      if (!holds() || held === null) return { kind: 'gone' };
      // Counted before it is looked at, so that many at once are not many more.
      const one: Held<T> = { ...held, left: held.left - 1 };
      held = one.left > 0 ? one : null;
      if (await matches(one.pin, typed)) {
        held = null;
        return { kind: 'opened', what: one.what };
      }
      return { kind: 'wrong', left: one.left };
    },
    drop: () => {
      held = null;
    },
  };
}

/** What a page asks the service worker for. */
export type VaultAsk<T> =
  | { readonly vault: 'keep'; readonly pin: Pin; readonly what: T }
  | { readonly vault: 'open'; readonly typed: string }
  | { readonly vault: 'lock' | 'holds' | 'drop' | 'alive' };

export type VaultReply<T> = Opened<T> | { readonly kind: 'holds'; readonly holds: boolean };

/** Does what a page asks; undefined where there is nothing to answer. */
export async function answerVault<T>(vault: PinVault<T>, ask: VaultAsk<T>): Promise<VaultReply<T> | undefined> {
  switch (ask.vault) {
    case 'keep':
      vault.keep(ask.pin, ask.what);
      return undefined;
    case 'open':
      return vault.open(ask.typed);
    case 'holds':
      return { kind: 'holds', holds: vault.holds() };
    case 'lock':
      vault.lock();
      return undefined;
    case 'drop':
      vault.drop();
      return undefined;
    case 'alive':
      return undefined;
  }
}
