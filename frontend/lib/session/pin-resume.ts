/**
 * Coming back with a PIN: the keys of a locked session stay in this page's
 * memory for a while, and nowhere else.
 */
import { signal, type ReadonlySignal } from '@preact/signals';
import { StoreError } from '../errors';
import type { Browser } from './browser';
import type { PinCheck } from './pin';
import type { OpenKeys } from './session';

/** Whose session it is. */
export interface SignedInAs {
  readonly who: OpenKeys;
  /** The name that was typed, or empty with a passkey. */
  readonly login: string;
}

/** A locked session whose keys are still in memory. */
interface ResumableSession extends SignedInAs {
  readonly online: boolean;
  readonly check: PinCheck;
  readonly at: number;
  tries: number;
}

export interface PinResume {
  /** A PIN can bring the last session back. */
  readonly resumable: ReadonlySignal<boolean>;
  readonly hasPin: ReadonlySignal<boolean>;
  /** Sets the PIN of the open session; null takes it away. */
  readonly set: (check: PinCheck | null) => void;
  /** The open session ends. With a PIN its keys are kept; `as` is null when they must not be. */
  readonly end: (as: SignedInAs | null, online: boolean) => void;
  /** Forgets the keys of the last session. */
  readonly drop: () => void;
  /** Gives the session that this PIN brings back; rejects with StoreError and counts the try when it is another PIN. */
  readonly open: (typed: string) => Promise<Readonly<ResumableSession>>;
}

const MOST_TRIES = 5;
/** How long after locking a PIN still works; proposal, not validated. */
const RESUME_MS = 2 * 3_600_000;

export function createPinResume(browser: () => Browser): PinResume {
  const [resumable, hasPin] = [signal(false), signal(false)];
  let pin: PinCheck | null = null;
  let last: ResumableSession | null = null;
  let dropping: unknown = null;

  const set = (check: PinCheck | null): void => {
    pin = check;
    hasPin.value = check !== null;
  };

  const drop = (): void => {
    browser().world.clearTimer(dropping);
    last = null;
    resumable.value = false;
  };

  const end = (as: SignedInAs | null, online: boolean): void => {
    drop();
    if (as !== null && pin !== null) {
      last = { ...as, check: pin, online, at: Date.now(), tries: 0 };
      resumable.value = true;
      dropping = browser().world.setTimer(drop, RESUME_MS);
    }
    set(null);
  };

  const open = async (typed: string): Promise<ResumableSession> => {
    const one = last;
    if (one === null || Math.abs(Date.now() - one.at) > RESUME_MS) {
      drop();
      throw new StoreError('locked', 'The PIN works for two hours. Sign in with your password.');
    }
    one.tries += 1;
    if (!(await one.check(typed))) {
      const left = MOST_TRIES - one.tries;
      if (left <= 0) drop();
      throw new StoreError('password', wrongPin(left));
    }
    if (last !== one) throw new StoreError('locked', 'Sign in with your password.');
    drop();
    return one;
  };

  return { resumable, hasPin, set, end, drop, open };
}

function wrongPin(left: number): string {
  if (left <= 0) return 'That was the fifth wrong PIN. Sign in with your password; nothing is lost.';
  return `This is not the PIN. ${left === 1 ? 'One try is' : `${left} tries are`} left before the password is needed.`;
}
