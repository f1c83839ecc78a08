/** The browser as the store uses it: the only file here that touches window or navigator. */
import type { ReadonlySignal } from '@preact/signals';
import { createHttp, type Http } from '../api/http';
import type { DatabaseState } from '../database/database';
import { createLocks } from '../database/locks';
import { createDatabaseStates } from '../database/states';
import { createEngine, type Engine, type EngineTimers } from '../engine/engine';
import { startEngineWorker } from '../workers';
import { createKeeper } from './keeper';
import type { Keeper } from './resumable';
import type { World } from './workspace';

export interface Browser {
  readonly http: Http;
  readonly engine: Engine;
  /** A program for one question that is not to stay in the memory of the other. */
  readonly newEngine: () => Engine;
  readonly world: World;
  /** What holds keys over a reload. */
  readonly keeper: Keeper;
  /** How the records on this tablet stand, as last seen. */
  readonly records: ReadonlySignal<DatabaseState>;
  /** Asks the browser once not to clear our rows when space is short. */
  readonly askToStay: () => void;
}

/** One word on what a device is, by what its browser calls itself: for lists of tablets and of sessions. */
export function deviceLabel(agent = navigator.userAgent): string {
  const kind = /iPad|Tablet|Android(?!.*Mobile)/.test(agent) ? 'Tablet' : /Mobile|iPhone/.test(agent) ? 'Phone' : 'Computer';
  const system = /Android|iPad|iPhone|Windows|Mac|CrOS|Linux/.exec(agent)?.[0] ?? '';
  return system === '' || system === 'iPad' ? kind : `${kind} (${system})`;
}

export function createBrowser({
  lockedElsewhere,
  revoked,
}: {
  readonly lockedElsewhere: () => void;
  readonly revoked: () => void;
}): Browser {
  const states = createDatabaseStates();
  const locksAre = states.source();
  let waiting = 0;
  const http = createHttp((input, init) => fetch(input, init), revoked);
  const timers: EngineTimers = {
    setTimer: (run, ms) => setTimeout(run, ms),
    clearTimer: (timer) => {
      clearTimeout(timer as number);
    },
  };
  const newEngine = () => createEngine(startEngineWorker, timers);
  const engine = newEngine();
  const world: World = {
    http,
    engine,
    notices: states.source,
    lockedElsewhere,
    // Unit tests import screens where there is no navigator.
    locks:
      typeof navigator === 'undefined'
        ? createLocks(undefined)
        : createLocks(navigator.locks, {
            waits: (long) => {
              waiting += long ? 1 : -1;
              locksAre(waiting > 0 ? 'blocked' : 'well');
            },
            page: window,
          }),
    now: () => new Date(),
    zone: () => Intl.DateTimeFormat().resolvedOptions().timeZone,
    random: Math.random,
    visible: () => document.visibilityState === 'visible',
    ...timers,
    channel: (name) => ('BroadcastChannel' in globalThis ? new BroadcastChannel(name) : null),
  };
  let asked = false;
  return {
    http,
    keeper: createKeeper(typeof navigator === 'undefined' ? undefined : navigator.serviceWorker),
    engine,
    newEngine,
    records: states.worst,
    world,
    askToStay: () => {
      if (asked) return;
      asked = true;
      // Some browsers have no storage manager; then there is nothing to ask.
      if ('storage' in navigator && 'persist' in navigator.storage) void navigator.storage.persist().catch(() => false);
    },
  };
}
