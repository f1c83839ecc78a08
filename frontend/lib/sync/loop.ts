/**
 * When to exchange with the server.
 *
 *   idle --poke--> due --timer--> running --ok--> idle (again in a minute while visible)
 *                                    \--failed--> due (full jitter, 1 s doubling to 5 min)
 *
 * A poke while running runs once more afterwards, and one that meets another tab
 * in the middle of an exchange is tried again: that one may have sent already. A
 * poke never shortens a wait after failure, except a pressed button or a network
 * that came back.
 */
interface LoopDeps {
  /** One exchange; a rejection counts as failed. Busy is only said where it does not wait its turn. */
  readonly run: (turn: Turn) => Promise<Outcome>;
  readonly random: () => number;
  readonly visible: () => boolean;
  readonly setTimer: (run: () => void, ms: number) => unknown;
  readonly clearTimer: (timer: unknown) => void;
}

/** What to do while another tab exchanges. */
export type Turn = 'wait' | 'pass';

/** How an exchange went; busy when another tab was at it. */
export type Outcome = 'done' | 'failed' | 'busy';

export interface Loop {
  /** Something was written: exchange in a second. */
  readonly poke: () => void;
  /** The network or the page came back: exchange soon, whatever failed before. */
  readonly wake: () => void;
  /** Exchange now and wait for its end. */
  readonly now: () => Promise<void>;
  readonly stop: () => void;
}

const DEBOUNCE_MS = 1_000;
const EVERY_MS = 60_000;
const FIRST_WAIT_MS = 1_000;
const LONGEST_WAIT_MS = 300_000;

export function createLoop(deps: LoopDeps): Loop {
  let timer: unknown = null;
  let running: Promise<void> | null = null;
  let again = false;
  let failures = 0;
  let stopped = false;

  const plan = (ms: number): void => {
    if (stopped) return;
    if (timer !== null) deps.clearTimer(timer);
    timer = deps.setTimer(() => {
      timer = null;
      if (deps.visible() || failures > 0 || again) void go('pass');
      else plan(EVERY_MS);
    }, ms);
  };

  const attempt = async (turn: Turn): Promise<void> => {
    const poked = again;
    again = false;
    const outcome = await deps.run(turn).catch((): Outcome => 'failed');
    if (outcome === 'busy') again ||= poked;
    else failures = outcome === 'done' ? 0 : failures + 1;
  };

  const go = (turn: Turn): Promise<void> => {
    if (stopped) return Promise.resolve();
    running ??= attempt(turn).finally(() => {
      running = null;
      if (failures > 0) plan(backoff(failures, deps.random));
      else plan(again ? DEBOUNCE_MS : EVERY_MS);
    });
    return running;
  };

  return {
    poke: () => {
      again = true;
      if (running === null && failures === 0) plan(DEBOUNCE_MS);
    },
    wake: () => {
      failures = 0;
      again = true;
      if (running === null) plan(0);
    },
    now: async () => {
      if (running !== null) await running;
      if (timer !== null) deps.clearTimer(timer);
      timer = null;
      await go('wait');
    },
    stop: () => {
      stopped = true;
      if (timer !== null) deps.clearTimer(timer);
    },
  };
}

/** Full jitter: anywhere between nothing and the doubled wait. */
export function backoff(failures: number, random: () => number): number {
  return Math.round(random() * Math.min(LONGEST_WAIT_MS, FIRST_WAIT_MS * 2 ** Math.min(failures, 20)));
}
