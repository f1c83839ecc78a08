/** The session that is open in this tab: how it begins and ends, and what a withdrawal does to it. */
import { batch, signal, type ReadonlySignal, type Signal } from '@preact/signals';
import { lockedError } from '../errors';
import type { Session } from '../records/types';
import type { Browser } from './browser';
import type { PinResume } from './pin-resume';
import type { SignedInAs } from './resumable';
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
  /** Whether it still does: nothing asks for a password before, for then the page may be closed. */
  readonly closing: ReadonlySignal<boolean>;
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

/** What a withdrawal of this tablet does to the session. */
function createWithdrawal(browser: () => Browser, unlocking: OpenSession['unlocking'], leave: () => void) {
  const withdrawn = signal<Withdrawn | null>(null);
  /** The server said so before anybody was signed in. */
  let told = false;

  /** Nothing of a client is shown from here on; the workspace only sends. */
  const clear = (open: Workspace, who: OpenKeys): void => {
    told = false;
    open.loop.stop();
    withdrawn.value = 'sending';
    const { http, world } = browser();
    void unlocking()
      .then((lazy) => lazy.clearTablet({ http, keyStore: lazy.deps.keyStore, workspace: open, who, notices: world.notices }))
      .then((state) => {
        leave();
        withdrawn.value = state;
      });
  };
  return {
    withdrawn,
    clear,
    note: (said: boolean): void => {
      told = said;
    },
    /** Somebody comes in. */
    begin: ({ workspace, who }: SignedIn): void => {
      withdrawn.value = null;
      if (told) clear(workspace, who);
    },
  };
}

/** Closes what was opened for somebody who does not come in after all. */
function giveUp({ workspace }: SignedIn): (why: unknown) => Promise<never> {
  return async (why) => {
    await workspace.close();
    throw why;
  };
}

/** Closes workspaces, and says whether the last one still writes. */
function createClosing() {
  let last: Promise<unknown> = Promise.resolve();
  const runs = signal(false);
  return {
    runs,
    done: () => last,
    begin: (open: Workspace): void => {
      const mine = open.close().catch(() => undefined);
      last = mine;
      runs.value = true;
      void mine.then(() => {
        if (last === mine) runs.value = false;
      });
    },
  };
}

export function createOpenSession(browser: () => Browser, load: () => Promise<Lazy>, pins: PinResume): OpenSession {
  const workspace: Signal<Workspace | null> = signal(null);
  const session: Signal<Session | null> = signal(null);
  const idleMinutes = signal<number>(IDLE.usual);
  const before: (() => void)[] = [];
  let at: SignedInAs | null = null;
  const closing = createClosing();
  /** Counts who came in and went, so that whoever is on the way in knows. */
  let turn = 0;

  const unlocking = createUnlocking(browser, load);
  const withdrawal = createWithdrawal(browser, unlocking, () => {
    leave(false);
  });

  const leave = (keep: boolean): void => {
    turn += 1;
    const open = workspace.peek();
    if (open !== null) for (const work of before) work();
    batch(() => {
      pins.end(keep && at !== null);
      session.value = null;
      workspace.value = null;
      if (open !== null) closing.begin(open);
    });
    at = null;
    browser().engine.stop();
  };

  const enter = async (done: SignedIn, login: string, online = done.session.online): Promise<void> => {
    const mine = ++turn;
    const minutes = await done.workspace.store.secret('idle').catch(giveUp(done));
    // Locked in another tab meanwhile, or somebody else came in.
    if (mine !== turn) return giveUp(done)(lockedError());
    const last = workspace.peek();
    if (last !== null) closing.begin(last);
    at = { who: done.who, login };
    batch(() => {
      idleMinutes.value = typeof minutes === 'number' ? minutes : IDLE.usual;
      withdrawal.begin(done);
      workspace.value = done.workspace;
      session.value = { ...done.session, online };
    });
    void done.workspace.sealSigned();
    done.workspace.loop.wake();
  };

  const revoked = (): void => {
    const open = workspace.peek();
    if (withdrawal.withdrawn.peek() === 'sending') return;
    if (open === null || at === null) return withdrawal.note(open === null);
    for (const work of before) work();
    withdrawal.clear(open, at.who);
  };

  return {
    workspace,
    session,
    idleMinutes,
    withdrawn: withdrawal.withdrawn,
    unlocking,
    enter,
    leave,
    revoked,
    require: () => {
      const open = workspace.peek();
      if (open === null || at === null) throw lockedError();
      return { open, who: at.who };
    },
    current: () => at,
    closed: closing.done,
    closing: closing.runs,
    beforeLock: (work) => {
      before.push(work);
    },
    forgetRevoked: () => {
      withdrawal.note(false);
    },
  };
}
