/**
 * Coming back with a PIN: the keys of a locked session stay in memory for a while,
 * in this page and in the service worker, and nowhere else; see pin-vault.ts.
 */
import { signal, type ReadonlySignal } from '@preact/signals';
import { StoreError } from '../errors';
import type { Browser } from './browser';
import { createPinVault, RESUME_MS, type Opened, type Pin } from './pin-vault';
import type { ResumableSession } from './resumable';

export interface PinResume {
  /** A PIN can bring the last session back. */
  readonly resumable: ReadonlySignal<boolean>;
  readonly hasPin: ReadonlySignal<boolean>;
  /** Sets the PIN of the open session; null takes it away. */
  readonly set: (session: ResumableSession | null) => void;
  /** The open session ends. With a PIN its keys are kept, unless they must not be. */
  readonly end: (keep: boolean) => void;
  /** Forgets the keys of the last session. */
  readonly drop: () => void;
  /** Looks whether the service worker still holds a session of before a reload. */
  readonly look: () => Promise<void>;
  /** Gives the session that this PIN brings back; rejects with StoreError and counts the try when it is another PIN. */
  readonly open: (typed: string) => Promise<ResumableSession>;
}

type Matches = (pin: Pin, typed: string) => Promise<boolean>;

/** `load` fetches the check of a PIN, which comes with what unlocks. */
export function createPinResume(browser: () => Browser, load: () => Promise<Matches>): PinResume {
  const [resumable, hasPin] = [signal(false), signal(false)];
  const vault = createPinVault<ResumableSession>(
    () => Date.now(),
    async (pin, typed) => (await load())(pin, typed),
  );
  let open: ResumableSession | null = null;
  let timer: unknown;
  /** The session was locked in this page, and not before a reload. */
  let lockedHere = false;

  const drop = (): void => {
    browser().world.clearTimer(timer);
    lockedHere = false;
    vault.drop();
    browser().keeper.tell({ vault: 'drop' });
    resumable.value = false;
  };

  /** Only the page may hold what the worker has lost; what both hold, the worker counts for both. */
  const tryPin = async (typed: string): Promise<Opened<ResumableSession>> => {
    // Two clocks are asked: one that was set does not make it last.
    if (lockedHere && !vault.holds()) return { kind: 'gone' };
    const reply = await browser().keeper.ask({ vault: 'open', typed });
    if (reply === null || reply.kind === 'holds' || reply.kind === 'gone') return vault.open(typed);
    if (reply.kind === 'wrong') vault.spend(reply.left);
    return reply;
  };

  return {
    resumable,
    hasPin,
    drop,
    set: (session) => {
      open = session;
      hasPin.value = session !== null;
      browser().keeper.tell(session === null ? { vault: 'drop' } : { vault: 'keep', pin: session.pin, what: session });
    },
    end: (keep) => {
      const last = open;
      open = null;
      hasPin.value = false;
      if (last === null || !keep) return drop();
      browser().world.clearTimer(timer);
      vault.keep(last.pin, last);
      lockedHere = true;
      browser().keeper.tell({ vault: 'lock' });
      resumable.value = true;
      timer = browser().world.setTimer(drop, RESUME_MS);
    },
    look: async () => {
      const reply = await browser().keeper.ask({ vault: 'holds' });
      if (reply?.kind === 'holds' && reply.holds && open === null) resumable.value = true;
    },
    open: async (typed) => {
      const done = await tryPin(typed);
      switch (done.kind) {
        case 'gone':
          drop();
          throw new StoreError('locked', 'The PIN works for two hours. Sign in with your password.');
        case 'wrong':
          if (done.left <= 0) drop();
          throw new StoreError('password', wrongPin(done.left));
        case 'opened':
          drop();
          return done.what;
      }
    },
  };
}

function wrongPin(left: number): string {
  if (left <= 0) return 'That was the fifth wrong PIN. Sign in with your password; nothing is lost.';
  return `This is not the PIN. ${left === 1 ? 'One try is' : `${left} tries are`} left before the password is needed.`;
}
