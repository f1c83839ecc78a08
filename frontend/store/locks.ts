/** Locks that hold across the browser's tabs where it has Web Locks, and within this tab everywhere. */
export interface Locks {
  /** Runs work alone; others wait their turn. */
  readonly alone: <T>(name: string, work: () => Promise<T>) => Promise<T>;
  /** Runs work unless somebody else is at it; says whether it ran. */
  readonly ifFree: (name: string, work: () => Promise<void>) => Promise<boolean>;
  /** Holds a lock together with others until the returned function is called; ifFree sees it as taken. */
  readonly share: (name: string) => () => void;
}

export function createLocks(manager: LockManager | undefined): Locks {
  if (manager === undefined) return createLocalLocks();
  return {
    alone: async (name, work) => manager.request(name, work),
    ifFree: (name, work) => manager.request(name, { ifAvailable: true }, async (lock) => {
      if (lock === null) return false;
      await work();
      return true;
    }),
    share: (name) => {
      let release = (): void => undefined;
      const held = new Promise<void>((resolve) => { release = resolve; });
      void manager.request(name, { mode: 'shared' }, () => held).catch(() => undefined);
      return () => { release(); };
    },
  };
}

function createLocalLocks(): Locks {
  const tails = new Map<string, Promise<unknown>>();
  const alone = <T>(name: string, work: () => Promise<T>): Promise<T> => {
    const before = tails.get(name) ?? Promise.resolve();
    const run = before.then(work, work);
    tails.set(name, run);
    const forget = () => { if (tails.get(name) === run) tails.delete(name); };
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
      void alone(name, () => new Promise<void>((resolve) => { release = resolve; }));
      return () => { release(); };
    },
  };
}
