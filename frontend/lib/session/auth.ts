/** Who is signed in at this tablet: signing in, locking, coming back. */
import type { Withdrawn } from './withdraw';
import { batch, signal, type ReadonlySignal, type Signal } from '@preact/signals';
import type { Browser } from './browser';
import type { Workspace } from './workspace';
import { StoreError } from '../errors';
import type { PinCheck } from './pin';
import type { Keyed, SessionDeps, SignedIn } from './session';
import type { Session } from '../records/types';
import type { Arrival } from './single-sign-on';

export interface Auth {
  readonly workspace: ReadonlySignal<Workspace | null>;
  readonly session: ReadonlySignal<Session | null>;
  /** A PIN can bring the last session back. */
  readonly resumable: ReadonlySignal<boolean>;
  readonly hasPin: ReadonlySignal<boolean>;
  /** Minutes without a touch after which the tablet locks. */
  readonly idleMinutes: ReadonlySignal<number>;
  readonly withdrawn: ReadonlySignal<Withdrawn | null>;
  readonly signIn: (name: string, password: string, oldPassword?: string, forgotten?: boolean) => Promise<void>;
  readonly signInWithPasskey: () => Promise<void>;
  /** Opens the tablet for whom the organisation has signed in; see single-sign-on.ts. */
  readonly signInWithSingleSignOn: (who: Arrival, password: string, forgotten: boolean) => Promise<void>;
  readonly resume: (pin: string) => Promise<void>;
  readonly setPin: (pin: string | null) => Promise<void>;
  readonly setIdleMinutes: (minutes: number) => Promise<void>;
  /** Locks this person's tabs. With a PIN the keys stay in this page's memory, and nowhere else. */
  readonly lock: () => void;
  readonly signOut: () => Promise<void>;
  /** Settles when the server has heard of the last sign-out, or could not. */
  readonly signedOut: () => Promise<void>;
  /** The same as lock, asked for by another tab. */
  readonly lockedElsewhere: () => void;
  /** The server says that this tablet was withdrawn. */
  readonly revoked: () => void;
  /** Has something done while the person is still signed in, right before the workspace closes. */
  readonly beforeLock: (work: () => void) => void;
  /** Keys and key store of the person who is signed in; throws StoreError `locked`. */
  readonly keys: () => Promise<Unlocking & { readonly who: Keyed }>;
  readonly unlocking: () => Promise<Unlocking>;
}

export type Lazy = typeof import('./unlock');
type Unlocking = Lazy & { readonly deps: SessionDeps };

const MOST_TRIES = 5;
/** How long after locking a PIN still works; proposal, not validated. */
const RESUME_MS = 2 * 3_600_000;
export const IDLE = { least: 2, usual: 10, most: 15 } as const;

/** A locked session whose keys are still in memory. */
interface ResumableSession {
  readonly who: Keyed;
  readonly login: string;
  readonly online: boolean;
  readonly check: PinCheck;
  readonly at: number;
  tries: number;
}

/** `load` fetches what runs once somebody unlocks the tablet. */
export function createAuth(browser: () => Browser, load: () => Promise<Lazy>): Auth {
  const workspace: Signal<Workspace | null> = signal(null);
  const session: Signal<Session | null> = signal(null);
  const [resumable, hasPin] = [signal(false), signal(false)];
  const idleMinutes = signal<number>(IDLE.usual);
  const withdrawn = signal<Withdrawn | null>(null);
  const before: (() => void)[] = [];
  let deps: SessionDeps | undefined;
  let at: { readonly who: Keyed; readonly login: string } | null = null;
  let pin: PinCheck | null = null;
  let resumableSession: ResumableSession | null = null;
  let dropping: unknown = null;
  /** The server said so before anybody was signed in. */
  let told = false;
  /** What the last workspace still had to write down. */
  let closing: Promise<unknown> = Promise.resolve();
  let ending: Promise<void> = Promise.resolve();

  const unlocking = async (): Promise<Unlocking> => {
    const lazy = await load();
    deps ??= lazy.createSession(browser().world);
    return { ...lazy, deps };
  };

  const drop = (): void => {
    browser().world.clearTimer(dropping);
    resumableSession = null;
    resumable.value = false;
  };

  const leave = (keep: boolean): void => {
    const open = workspace.peek();
    if (open !== null) for (const work of before) work();
    drop();
    if (keep && pin !== null && at !== null) {
      resumableSession = { ...at, check: pin, online: session.peek()?.online ?? false, at: Date.now(), tries: 0 };
      resumable.value = true;
      dropping = browser().world.setTimer(drop, RESUME_MS);
    }
    pin = null;
    at = null;
    batch(() => {
      hasPin.value = false;
      session.value = null;
      workspace.value = null;
    });
    browser().engine.stop();
    if (open !== null) closing = open.close().catch(() => undefined);
  };

  const enter = async (done: SignedIn, login: string, online = done.session.online): Promise<void> => {
    at = { who: done.who, login };
    const minutes = await done.workspace.store.secret('idle');
    batch(() => {
      idleMinutes.value = typeof minutes === 'number' ? minutes : IDLE.usual;
      withdrawn.value = null;
      if (told) revoke(done.workspace, done.who);
      workspace.value = done.workspace;
      session.value = { ...done.session, online };
    });
    void done.workspace.sealSigned();
    done.workspace.loop.wake();
  };

  /** Nothing of a client is shown from here on; the workspace only sends. */
  const revoke = (open: Workspace, who: Keyed): void => {
    told = false;
    open.loop.stop();
    withdrawn.value = 'sending';
    void unlocking()
      .then((lazy) =>
        lazy.clearTablet({ http: browser().http, keyStore: lazy.deps.keyStore, workspace: open, who, notices: browser().world.notices }),
      )
      .then((state) => {
        leave(false);
        withdrawn.value = state;
      });
  };

  const requireWorkspace = (): { readonly open: Workspace; readonly who: Keyed } => {
    const open = workspace.peek();
    if (open === null || at === null) throw new StoreError('locked', 'This tablet is locked. Sign in to go on; nothing is lost.');
    return { open, who: at.who };
  };

  const renew = async (lazy: Unlocking, name: string, password: string): Promise<boolean> => {
    const [open, now] = [workspace.peek(), session.peek()];
    if (open === null || now === null || name.trim() !== at?.login || (await lazy.deps.keyStore.find(name))?.local !== undefined)
      return false;
    const answer = await lazy.renewSession(browser().http, name, password, now.tablet);
    if (answer === 'offline') return true;
    // A server that does not know this tablet gives it another name, from the start.
    const known = answer.tablet === now.tablet && (answer.tablet !== '' || answer.teams.length === 0);
    if (!known || answer.person.id !== now.person.id) return false;
    session.value = { ...now, person: answer.person, teams: answer.teams, admin: answer.admin, online: true };
    await open.teamDownloads.setTeams(answer.teams);
    open.loop.wake();
    return true;
  };

  return {
    workspace,
    session,
    resumable,
    hasPin,
    idleMinutes,
    withdrawn,
    unlocking,
    beforeLock: (work) => {
      before.push(work);
    },
    keys: async () => ({ ...(await unlocking()), who: requireWorkspace().who }),
    signIn: async (name, password, oldPassword, forgotten) => {
      const lazy = await unlocking();
      if (await renew(lazy, name, password)) return;
      leave(true);
      told = false;
      await closing;
      const done = await lazy.signInWith(lazy.deps, { login: name, password, oldPassword, forgotten });
      drop();
      await enter(done, name.trim());
    },
    signInWithSingleSignOn: async (who, password, forgotten) => {
      const lazy = await unlocking();
      leave(true);
      told = false;
      await closing;
      const done = await lazy.openWithSingleSignOn(lazy.deps, who, password, forgotten);
      drop();
      await enter(done, who.login);
    },
    signInWithPasskey: async () => {
      const lazy = await unlocking();
      const { row, ring } = await lazy.unlockWithPasskey(lazy.deps.keyStore);
      leave(false);
      await closing;
      await enter(await lazy.openOffline(lazy.deps, row, ring), '');
    },
    resume: async (typed) => {
      const [lazy, one] = [await unlocking(), resumableSession];
      if (one === null || Math.abs(Date.now() - one.at) > RESUME_MS) {
        drop();
        throw new StoreError('locked', 'The PIN works for two hours. Sign in with your password.');
      }
      one.tries += 1;
      if (!(await one.check(typed))) {
        const left = MOST_TRIES - one.tries;
        if (left <= 0) drop();
        throw new StoreError(
          'password',
          left <= 0
            ? 'That was the fifth wrong PIN. Sign in with your password; nothing is lost.'
            : `This is not the PIN. ${left === 1 ? 'One try is' : `${left} tries are`} left before the password is needed.`,
        );
      }
      if (resumableSession !== one) throw new StoreError('locked', 'Sign in with your password.');
      drop();
      await closing;
      const done = await lazy.reopen(lazy.deps, one.who);
      await enter(done, one.login, one.online);
      pin = one.check;
      hasPin.value = true;
    },
    setPin: async (typed) => {
      const made = typed === null ? null : await (await unlocking()).createPin(typed);
      requireWorkspace();
      pin = made;
      hasPin.value = made !== null;
    },
    setIdleMinutes: async (minutes) => {
      const { open } = requireWorkspace();
      const fit = Math.min(IDLE.most, Math.max(IDLE.least, Math.round(minutes)));
      const box = await open.store.seal('meta', 'idle', fit);
      await open.store.db.write(['meta'], (tx) => tx.objectStore('meta').put({ key: 'idle', box }));
      idleMinutes.value = fit;
    },
    lock: () => {
      workspace.peek()?.lockOthers();
      leave(true);
    },
    lockedElsewhere: () => {
      leave(true);
    },
    signOut: () => {
      workspace.peek()?.lockOthers();
      leave(false);
      // Without a network the server's session ends by its own time.
      ending = browser()
        .http({ method: 'DELETE', path: '/api/v1/session' })
        .then(
          () => undefined,
          () => undefined,
        );
      return ending;
    },
    signedOut: () => ending,
    revoked: () => {
      if (withdrawn.peek() === 'sending') return;
      const open = workspace.peek();
      told = open === null;
      if (open === null || at === null) return;
      for (const work of before) work();
      revoke(open, at.who);
    },
  };
}
