import assert from 'node:assert/strict';
import { test } from 'node:test';
import { createLocks } from './locks';

/** One browser's locks, as its tabs share them. */
function fakeManager(): LockManager {
  const queues = new Map<string, Promise<unknown>>();
  const request = async (name: string, ...rest: unknown[]): Promise<unknown> => {
    const work = rest.at(-1) as (lock: object | null) => unknown;
    const options = (rest.length > 1 ? rest[0] : {}) as { readonly ifAvailable?: boolean };
    const before = queues.get(name);
    if (options.ifAvailable && before !== undefined) return work(null);
    const run = (before ?? Promise.resolve()).then(() => work({}));
    const tail = run.then(
      () => undefined,
      () => undefined,
    );
    queues.set(name, tail);
    void tail.then(() => {
      if (queues.get(name) === tail) queues.delete(name);
    });
    return run;
  };
  return { request, query: () => Promise.resolve({}) } as unknown as LockManager;
}

/** A tab with a window that can be put away and shown again. */
function tabOf(manager: LockManager) {
  const page = new EventTarget();
  const said: boolean[] = [];
  const locks = createLocks(manager, {
    page,
    waits: (long) => {
      said.push(long);
    },
  });
  const lockedRows = (persisted: boolean) => {
    page.dispatchEvent(Object.assign(new Event('pagehide'), { persisted }));
  };
  return { locks, said, lockedRows };
}

function gate<T>() {
  let open: (value: T) => void = () => undefined;
  const closed = new Promise<T>((resolve) => {
    open = resolve;
  });
  return { closed, open };
}

const settled = () =>
  new Promise((resolve) => {
    setImmediate(resolve);
  });

test('a page that is kept for the back button does not keep another tab from opening the records', async () => {
  const manager = fakeManager();
  const [away, here] = [tabOf(manager), tabOf(manager)];
  const [writing, sending] = [gate<string>(), gate<undefined>()];
  const first = away.locks.alone('write', () => writing.closed);
  const sent = away.locks.ifFree('sync', () => sending.closed);
  await settled();
  let opened = false;
  const second = here.locks.alone('write', () => {
    opened = true;
    return Promise.resolve('opened');
  });
  away.lockedRows(false);
  await settled();
  assert.equal(opened, false, 'a page that is going for good ends by itself');
  away.lockedRows(true);
  assert.equal(await second, 'opened');
  assert.equal(await here.locks.ifFree('sync', () => Promise.resolve()), true);
  writing.open('saved');
  sending.open(undefined);
  assert.equal(await first, 'saved', 'what was on its way is saved once the page is shown again');
  assert.equal(await sent, true);
});

test('after eight seconds of waiting for another tab it is said, and it goes on when that one is done', async (t) => {
  t.mock.timers.enable({ apis: ['setTimeout'] });
  const manager = fakeManager();
  const [busy, here] = [tabOf(manager), tabOf(manager)];
  const writing = gate<undefined>();
  const first = busy.locks.alone('write', () => writing.closed);
  await settled();
  const second = here.locks.alone('write', () => Promise.resolve('opened'));
  t.mock.timers.tick(7_999);
  assert.deepEqual(here.said, []);
  t.mock.timers.tick(1);
  assert.deepEqual(here.said, [true]);
  writing.open(undefined);
  await first;
  assert.equal(await second, 'opened');
  assert.deepEqual([here.said, busy.said], [[true, false], []]);
});

test('a tab that waits for its own work does not blame another', async (t) => {
  t.mock.timers.enable({ apis: ['setTimeout'] });
  const { locks, said } = tabOf(fakeManager());
  const writing = gate<undefined>();
  const first = locks.alone('write', () => writing.closed);
  await settled();
  const second = locks.alone('write', () => Promise.resolve());
  t.mock.timers.tick(20_000);
  writing.open(undefined);
  await Promise.all([first, second]);
  assert.deepEqual(said, []);
});

test('work that fails under a lock fails for who asked, and frees the lock', async () => {
  const { locks } = tabOf(fakeManager());
  await assert.rejects(
    locks.alone('write', () => Promise.reject(new Error('full'))),
    /full/,
  );
  await assert.rejects(
    locks.ifFree('write', () => Promise.reject(new Error('offline'))),
    /offline/,
  );
  assert.equal(await locks.alone('write', () => Promise.resolve(1)), 1);
});

test('a lock that the browser does not give fails for who asked, and nobody is said to wait for it', async (t) => {
  t.mock.timers.enable({ apis: ['setTimeout'] });
  const broken = { request: () => Promise.reject(new Error('no locks here')), query: () => Promise.resolve({}) };
  const { locks, said } = tabOf(broken as unknown as LockManager);
  await assert.rejects(
    locks.alone('write', () => Promise.resolve()),
    /no locks/,
  );
  t.mock.timers.tick(20_000);
  assert.deepEqual(said, []);
});
