/** Locks that hold across the browser's tabs where it has Web Locks, and within this tab everywhere. */
export interface Locks {
  /** Runs work alone; others wait their turn. */
  readonly alone: <T>(name: string, work: () => Promise<T>) => Promise<T>;
  /** Runs work unless somebody else is at it; says whether it ran. */
  readonly ifFree: (name: string, work: () => Promise<void>) => Promise<boolean>;
  /** Holds a lock together with others until the returned function is called; ifFree sees it as taken. */
  readonly share: (name: string) => () => void;
}

/** How long somebody waits for another tab before it is said. */
const PATIENCE_MS = 8_000;

interface Patience {
  /** Told when another tab has kept this one waiting for long, and when it goes on. */
  readonly waits: (long: boolean) => void;
  /** The window, whose page may be put away for the back button. */
  readonly page?: Pick<EventTarget, 'addEventListener'>;
}

/**
 * A page that is put away while it holds a lock would keep it from every other
 * tab until somebody goes back to it. So it lets go. What it was at goes on when
 * it is shown again, as in a browser without Web Locks: each number and cursor is
 * compared in the transaction that moves it, and sending twice is harmless. A
 * lock of a tab that is merely slow is never stolen: nothing says that it is not
 * in the middle of showing what it has just read.
 */
export function createLocks(manager: LockManager | undefined, { waits, page }: Patience = { waits: () => undefined }): Locks {
  if (manager === undefined) return createLocalLocks();
  const held = new Map<() => void, string>();
  page?.addEventListener('pagehide', (event) => {
    if ((event as PageTransitionEvent).persisted) for (const letGo of held.keys()) letGo();
  });
  /** Over when the work is, or when the page is put away. */
  const holding = (name: string, done: Promise<unknown>): Promise<void> =>
    new Promise((resolve) => {
      held.set(resolve, name);
      const over = (): void => {
        held.delete(resolve);
        resolve();
      };
      done.then(over, over);
    });
  return {
    alone: async <T>(name: string, work: () => Promise<T>): Promise<T> => {
      let [done, long]: [Promise<T> | undefined, boolean] = [undefined, false];
      const timer = setTimeout(() => {
        // This tab may be waiting for itself.
        long = ![...held.values()].includes(name);
        if (long) waits(true);
      }, PATIENCE_MS);
      const over = (): void => {
        clearTimeout(timer);
        if (long) waits(false);
        long = false;
      };
      const asked = manager.request(name, () => {
        over();
        return holding(name, (done = work()));
      });
      await asked.finally(over);
      return done as unknown as Promise<T>;
    },
    ifFree: async (name, work) => {
      let done: Promise<void> | null = null;
      await manager.request(name, { ifAvailable: true }, (lock) => (lock === null ? undefined : holding(name, (done = work()))));
      await done;
      return done !== null;
    },
    share: (name) => {
      let release = (): void => undefined;
      const until = new Promise<void>((resolve) => {
        release = resolve;
      });
      void manager.request(name, { mode: 'shared' }, () => until).catch(() => undefined);
      return () => {
        release();
      };
    },
  };
}

function createLocalLocks(): Locks {
  const tails = new Map<string, Promise<unknown>>();
  const alone = <T>(name: string, work: () => Promise<T>): Promise<T> => {
    const before = tails.get(name) ?? Promise.resolve();
    const run = before.then(work, work);
    tails.set(name, run);
    const forget = () => {
      if (tails.get(name) === run) tails.delete(name);
    };
    run.then(forget, forget);
    return run;
  };
  return {
    alone,
    ifFree: async (name, work) => {
      if (tails.has(name)) return false;
      await alone(name, work);
      return true;
    },
    share: (name) => {
      let release = (): void => undefined;
      void alone(
        name,
        () =>
          new Promise<void>((resolve) => {
            release = resolve;
          }),
      );
      return () => {
        release();
      };
    },
  };
}
