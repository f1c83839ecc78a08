/** The session that is open in this tab: how it begins and ends, and what a withdrawal does to it. */
import { batch, signal, type ReadonlySignal, type Signal } from '@preact/signals';
import { StoreError } from '../errors';
import type { Session } from '../records/types';
import type { Browser } from './browser';
import type { PinResume, SignedInAs } from './pin-resume';
import type { OpenKeys, SessionDeps, SignedIn } from './session';
import type { Withdrawn } from './withdraw';
import type { Workspace } from './workspace';

/** What runs once somebody unlocks the tablet. */
export type Lazy = typeof import('./unlock');
export type Unlocking = Lazy & { readonly deps: SessionDeps };

export const IDLE = { least: 2, usual: 10, most: 15 } as const;

export interface OpenSession {
  readonly workspace: ReadonlySignal<Workspace | null>;
  readonly session: Signal<Session | null>;
  readonly idleMinutes: Signal<number>;
  readonly withdrawn: ReadonlySignal<Withdrawn | null>;
  readonly unlocking: () => Promise<Unlocking>;
  /** Who is signed in; null when nobody is. */
  readonly current: () => SignedInAs | null;
  /** Throws StoreError `locked` when nobody is signed in. */
  readonly require: () => { readonly open: Workspace; readonly who: OpenKeys };
  readonly beforeLock: (work: () => void) => void;
  readonly enter: (done: SignedIn, login: string, online?: boolean) => Promise<void>;
  /** Ends the session; with `keep` a PIN can bring it back. */
  readonly leave: (keep: boolean) => void;
  /** Resolves when the last workspace has written down what it still had to. */
  readonly closed: () => Promise<unknown>;
  /** The server says that this tablet was withdrawn. */
  readonly revoked: () => void;
  /** What the server said of a withdrawal before anybody was signed in counts no more. */
  readonly forgetRevoked: () => void;
}

function createUnlocking(browser: () => Browser, load: () => Promise<Lazy>): OpenSession['unlocking'] {
  let deps: SessionDeps | undefined;
  return async () => {
    const lazy = await load();
    deps ??= lazy.createSession(browser().world);
    return { ...lazy, deps };
  };
}

export function createOpenSession(browser: () => Browser, load: () => Promise<Lazy>, pins: PinResume): OpenSession {
  const workspace: Signal<Workspace | null> = signal(null);
  const session: Signal<Session | null> = signal(null);
  const idleMinutes = signal<number>(IDLE.usual);
  const withdrawn = signal<Withdrawn | null>(null);
  const before: (() => void)[] = [];
  let at: SignedInAs | null = null;
  /** The server said so before anybody was signed in. */
  let revokedEarly = false;
  let closing: Promise<unknown> = Promise.resolve();

  const unlocking = createUnlocking(browser, load);

  const leave = (keep: boolean): void => {
    const open = workspace.peek();
    if (open !== null) for (const work of before) work();
    batch(() => {
      pins.end(keep ? at : null, session.peek()?.online ?? false);
      session.value = null;
      workspace.value = null;
    });
    at = null;
    if (open !== null) closing = open.close().catch(() => undefined);
    browser().engine.stop();
  };

  const enter = async (done: SignedIn, login: string, online = done.session.online): Promise<void> => {
    at = { who: done.who, login };
    const minutes = await done.workspace.store.secret('idle');
    batch(() => {
      idleMinutes.value = typeof minutes === 'number' ? minutes : IDLE.usual;
      withdrawn.value = null;
      if (revokedEarly) clear(done.workspace, done.who);
      workspace.value = done.workspace;
      session.value = { ...done.session, online };
    });
    void done.workspace.sealSigned();
    done.workspace.loop.wake();
  };

  /** Nothing of a client is shown from here on; the workspace only sends. */
  const clear = (open: Workspace, who: OpenKeys): void => {
    revokedEarly = false;
    open.loop.stop();
    withdrawn.value = 'sending';
    const { http, world } = browser();
    void unlocking()
      .then((lazy) => lazy.clearTablet({ http, keyStore: lazy.deps.keyStore, workspace: open, who, notices: world.notices }))
      .then((state) => {
        leave(false);
        withdrawn.value = state;
      });
  };

  const revoked = (): void => {
    if (withdrawn.peek() === 'sending') return;
    const open = workspace.peek();
    revokedEarly = open === null;
    if (open === null || at === null) return;
    for (const work of before) work();
    clear(open, at.who);
  };

  const require = (): { readonly open: Workspace; readonly who: OpenKeys } => {
    const open = workspace.peek();
    if (open === null || at === null) throw new StoreError('locked', 'This tablet is locked. Sign in to go on; nothing is lost.');
    return { open, who: at.who };
  };

  return {
    workspace,
    session,
    idleMinutes,
    withdrawn,
    unlocking,
    enter,
    leave,
    revoked,
    require,
    current: () => at,
    closed: () => closing,
    beforeLock: (work) => {
      before.push(work);
    },
    forgetRevoked: () => {
      revokedEarly = false;
    },
  };
}
