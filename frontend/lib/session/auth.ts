/** Who is signed in at this tablet: signing in, locking, coming back. */
import { signal, type ReadonlySignal } from '@preact/signals';
import type { Session } from '../records/types';
import type { Browser } from './browser';
import { createOpenSession, IDLE, type Lazy, type OpenSession, type Unlocking } from './open-session';
import { createPinResume, type PinResume } from './pin-resume';
import type { OpenKeys } from './session';
import type { Arrival } from './single-sign-on';
import type { Withdrawn } from './withdraw';
import type { Workspace } from './workspace';

export interface Auth {
  readonly workspace: ReadonlySignal<Workspace | null>;
  readonly session: ReadonlySignal<Session | null>;
  /** The last session of this page was locked, and not signed out. */
  readonly locked: ReadonlySignal<boolean>;
  /** What the last session was writing is not all on the disk yet. */
  readonly closing: ReadonlySignal<boolean>;
  /** A PIN can bring the last session back. */
  readonly resumable: ReadonlySignal<boolean>;
  readonly hasPin: ReadonlySignal<boolean>;
  /** Looks whether the service worker still holds the keys of before a reload. */
  readonly lookForKeys: () => Promise<void>;
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
  /** Locks this person's tabs. With a PIN the keys stay in memory; see pin-vault.ts. */
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
  readonly keys: () => Promise<Unlocking & { readonly who: OpenKeys }>;
  readonly unlocking: () => Promise<Unlocking>;
}

/** `load` fetches what runs once somebody unlocks the tablet. */
export function createAuth(browser: () => Browser, load: () => Promise<Lazy>): Auth {
  const pins = createPinResume(browser, async () => (await load()).isPin);
  const open = createOpenSession(browser, load, pins);
  const { workspace, session, closing, idleMinutes, withdrawn, unlocking, beforeLock, revoked } = open;
  return {
    workspace,
    session,
    closing,
    idleMinutes,
    withdrawn,
    unlocking,
    beforeLock,
    revoked,
    resumable: pins.resumable,
    hasPin: pins.hasPin,
    lookForKeys: pins.look,
    ...waysIn(browser, open, pins),
    ...waysOut(browser, open),
    keys: async () => ({ ...(await unlocking()), who: open.require().who }),
    setPin: async (typed) => {
      const pin = typed === null ? null : await (await unlocking()).createPin(typed);
      const { who } = open.require();
      pins.set(pin === null ? null : { who, login: open.current()?.login ?? '', online: session.peek()?.online ?? false, pin });
    },
    setIdleMinutes: async (minutes) => {
      const { store } = open.require().open;
      const fit = Math.min(IDLE.most, Math.max(IDLE.least, Math.round(minutes)));
      await store.keepSecret('idle', fit);
      idleMinutes.value = fit;
    },
  };
}

type WaysIn = Pick<Auth, 'signIn' | 'signInWithSingleSignOn' | 'signInWithPasskey' | 'resume'>;

function waysIn(browser: () => Browser, open: OpenSession, pins: PinResume): WaysIn {
  /** Ends the session that is open, if any; a PIN can still bring it back while the next sign-in fails. */
  const makeWay = async (): Promise<void> => {
    open.leave(true);
    open.forgetRevoked();
    await open.closed();
  };
  return {
    signIn: async (name, password, oldPassword, forgotten) => {
      const lazy = await open.unlocking();
      if (await renew(browser(), open, lazy, { name, password })) return;
      await makeWay();
      const done = await lazy.signInWith(lazy.deps, { login: name, password, oldPassword, forgotten });
      pins.drop();
      await open.enter(done, name.trim());
    },
    signInWithSingleSignOn: async (who, password, forgotten) => {
      const lazy = await open.unlocking();
      await makeWay();
      const done = await lazy.openWithSingleSignOn(lazy.deps, who, password, forgotten);
      pins.drop();
      await open.enter(done, who.login);
    },
    signInWithPasskey: async () => {
      const lazy = await open.unlocking();
      const { row, ring } = await lazy.unlockWithPasskey(lazy.deps.keyStore);
      open.leave(false);
      await open.closed();
      await open.enter(await lazy.openOffline(lazy.deps, row, ring), '');
    },
    resume: async (typed) => {
      const lazy = await open.unlocking();
      const last = await pins.open(typed);
      await open.closed();
      await open.enter(await lazy.reopen(lazy.deps, last.who), last.login, last.online);
      pins.set({ ...last, who: open.require().who });
    },
  };
}

/** Signs in again whoever is signed in already, with the rows left open; false when that is not what was asked. */
async function renew(
  { http }: Browser,
  open: OpenSession,
  lazy: Unlocking,
  ask: { readonly name: string; readonly password: string },
): Promise<boolean> {
  const [workspace, now] = [open.workspace.peek(), open.session.peek()];
  if (workspace === null || now === null || ask.name.trim() !== open.current()?.login) return false;
  if ((await lazy.deps.keyStore.find(ask.name))?.local !== undefined) return false;
  const answer = await lazy.renewSession(http, ask.name, ask.password, now.tablet);
  if (answer === 'offline') return true;
  // A server that does not know this tablet gives it another name, from the start.
  const known = answer.tablet === now.tablet && (answer.tablet !== '' || answer.teams.length === 0);
  if (!known || answer.person.id !== now.person.id) return false;
  open.session.value = { ...now, person: answer.person, teams: answer.teams, admin: answer.admin, online: true };
  await workspace.teamDownloads.setTeams(answer.teams);
  workspace.loop.wake();
  return true;
}

type WaysOut = Pick<Auth, 'locked' | 'lock' | 'lockedElsewhere' | 'signOut' | 'signedOut'>;

function waysOut(browser: () => Browser, open: OpenSession): WaysOut {
  let ending: Promise<void> = Promise.resolve();
  const nothing = (): void => undefined;
  const locked = signal(false);
  const leaveLocked = (): void => {
    if (open.session.peek() !== null) locked.value = true;
    open.leave(true);
  };
  return {
    locked,
    lock: () => {
      open.workspace.peek()?.lockOthers();
      leaveLocked();
    },
    lockedElsewhere: leaveLocked,
    signOut: () => {
      locked.value = false;
      open.workspace.peek()?.lockOthers();
      open.leave(false);
      // Without a network the server's session ends by its own time.
      ending = browser().http({ method: 'DELETE', path: '/api/v1/session' }).then(nothing, nothing);
      return ending;
    },
    signedOut: () => ending,
  };
}
