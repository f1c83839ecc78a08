/** What is known of the way to the server: what the last exchange came to. */
import { batch, signal, type Signal } from '@preact/signals';
import { isFull, StoreError } from '../errors';
import type { SyncProblem } from '../records/types';

export interface SyncStatus {
  readonly asked: Signal<boolean>;
  readonly online: Signal<boolean>;
  readonly lastSent: Signal<string>;
  /** Seconds that this tablet's clock is ahead of the server's. */
  readonly clockAhead: Signal<number>;
  readonly error: Signal<SyncProblem | null>;
  /** The server gave an answer in the middle of an exchange, at its own time. */
  readonly answered: (serverTime: string, now: Date) => void;
  readonly succeeded: (at: string) => void;
  readonly failed: (error: unknown) => void;
}

/** `sent` is when the last exchange succeeded, or empty. */
export function createSyncStatus(sent: string): SyncStatus {
  const asked = signal(false);
  const online = signal(false);
  const lastSent = signal(sent);
  const clockAhead = signal(0);
  const error = signal<SyncProblem | null>(null);
  const reached = (): void => {
    asked.value = true;
    online.value = true;
  };
  return {
    asked,
    online,
    lastSent,
    clockAhead,
    error,
    answered: (serverTime, now) => {
      batch(reached);
      const server = Date.parse(serverTime);
      if (!Number.isNaN(server)) clockAhead.value = Math.round((now.getTime() - server) / 1000);
    },
    succeeded: (at) => {
      batch(() => {
        reached();
        lastSent.value = at;
        error.value = null;
      });
    },
    failed: (thrown) => {
      batch(() => {
        const problem = problemOf(thrown);
        asked.value = true;
        online.value = !['offline', 'portal'].includes(problem.code);
        // Having no network is a state, not a problem.
        error.value = problem.code === 'offline' ? null : problem;
      });
    },
  };
}

/** Rows that did not open, as something to tell the person. */
export function damagedRows(count: number): SyncProblem {
  const rows = count === 1 ? 'One record' : `${count} records`;
  return {
    code: 'damaged',
    message: `${rows} on this tablet could not be opened and are left out. Tell your administrator; what was sent before is safe on the server.`,
  };
}

function problemOf(error: unknown): SyncProblem {
  if (!(error instanceof StoreError)) return { code: 'server', message: 'Sending did not work. It will be tried again; nothing is lost.' };
  if (error.code === 'sign-in')
    return { code: 'sign-in', message: 'Sign in again to send. Nothing is lost: what you saved is on this tablet.' };
  if (isFull(error)) return { code: error.info.reason ?? '', message: error.message };
  if (error.info.reason === 'tablet')
    return { code: 'tablet', message: 'Somebody else is signed in on this browser. Sign in again to send what is yours.' };
  if (error.info.reason === 'damaged')
    return { code: 'damaged', message: 'What was sent arrived damaged. It will be sent again; nothing is lost.' };
  return { code: error.code, message: error.message };
}
