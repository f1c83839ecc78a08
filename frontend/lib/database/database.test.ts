import 'fake-indexeddb/auto';
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { openDB, type IDBPDatabase } from 'idb';
import { newId } from '../bytes';
import { StoreError, type StoreErrorCode } from '../errors';
import { createDatabase, type DatabaseState } from './database';
import { createPutAway } from './put-away';
import { personPlan, type PersonSchema } from './rows';

const code = (want: StoreErrorCode) => (error: unknown) => error instanceof StoreError && error.code === want;

function setUp(person = newId(), page?: EventTarget) {
  const states: DatabaseState[] = [];
  const plan = personPlan(person);
  const notices = (state: DatabaseState) => void states.push(state);
  const db = page === undefined ? createDatabase(plan, notices) : createDatabase(plan, notices, createPutAway(page));
  const save = (n: number) => db.write(['meta'], (tx) => tx.objectStore('meta').put({ key: 'n', number: n }));
  const read = async () => (await db.read(['meta'], (tx) => tx.objectStore('meta').get('n')))?.number;
  return { plan, states, db, save, read };
}

/** Runs work with a method of the browser's database replaced. */
async function replaced<T extends object, K extends keyof T>(on: T, key: K, by: T[K], work: () => Promise<void>): Promise<void> {
  const plain = on[key];
  on[key] = by;
  try {
    await work();
  } finally {
    on[key] = plain;
  }
}

test('fault 15: a handle that died is opened again, and a dead browser is not asked for ever', async () => {
  const { states, db, save, read } = setUp();
  await save(1);
  const transaction = IDBDatabase.prototype.transaction;
  let deaths = 1;
  let asked = 0;
  const dying: typeof transaction = function (this: IDBDatabase, ...given) {
    asked += 1;
    if (deaths-- > 0) throw new DOMException('connection is closing', 'InvalidStateError');
    return transaction.apply(this, given);
  };
  await replaced(IDBDatabase.prototype, 'transaction', dying, async () => {
    await save(2);
    assert.equal(await read(), 2, 'one death is not noticed');
    [deaths, asked] = [1_000, 0];
    await assert.rejects(save(3), code('lost'));
    assert.equal(asked, 3, 'a few tries and no more');
    asked = 0;
    await Promise.all([4, 5, 6].map((one) => assert.rejects(save(one), code('lost'))));
    assert.equal(asked, 3, 'then one try for each request');
    deaths = 0;
    await save(4);
  });
  assert.equal(await read(), 4);
  assert.deepEqual(states, ['well', 'lost', 'well']);
  db.close();
});

test('fault 16: a database that was deleted is not begun anew under the app', async () => {
  for (const way of ['asked to close', 'closed without a word']) {
    const { plan, states, db, save } = setUp();
    await save(7);
    if (way === 'asked to close') {
      await new Promise((resolve) => {
        indexedDB.deleteDatabase(plan.name).onsuccess = resolve;
      });
    } else {
      // The browser clears the origin: the handle dies, and the rows are gone.
      const transaction = IDBDatabase.prototype.transaction;
      await replaced(
        IDBDatabase.prototype,
        'transaction',
        () => {
          throw new DOMException('closed', 'InvalidStateError');
        },
        async () => {
          await assert.rejects(save(8), code('lost'));
        },
      );
      assert.equal(IDBDatabase.prototype.transaction, transaction);
      await deleteForSure(plan.name);
    }
    await assert.rejects(save(8), code('deleted'), way);
    await assert.rejects(save(9), code('deleted'), `${way}, again`);
    assert.equal(states.at(-1), 'deleted');
    const names = (await indexedDB.databases()).map((one) => one.name);
    assert.ok(!names.includes(plan.name), 'no empty records were made');
    db.close();
  }
});

/** Deletes a database in spite of handles that nobody uses. */
async function deleteForSure(name: string): Promise<void> {
  const gone = new Promise((resolve) => {
    indexedDB.deleteDatabase(name).onsuccess = resolve;
  });
  await gone;
}

/** The records as version 1 of the app left them, with one entry. */
async function versionOne(name: string): Promise<IDBPDatabase> {
  const old = await openDB(name, 1, {
    upgrade: (db) => {
      const events = db.createObjectStore('events', { keyPath: 'key' });
      events.createIndex('subject', 'subject');
      events.createIndex('own', 'own', { unique: true });
      db.createObjectStore('subjects', { keyPath: 'key' }).createIndex('stale', 'stale');
      for (const store of ['results', 'checklists', 'meta']) db.createObjectStore(store, { keyPath: 'key' });
    },
  });
  await old.put('events', { key: 'tab:1', subject: 's', pos: 0, own: 1, box: new Uint8Array([1, 2, 3]) });
  await old.put('meta', { key: 'n', number: 1 });
  return old;
}

test('fault 20: an upgrade that an old tab blocks is said, and goes on when that tab closes', async () => {
  const { plan, states, db, read } = setUp();
  const old = await versionOne(plan.name);
  const reading = read();
  for (let turns = 0; !states.includes('blocked') && turns < 1_000; turns++)
    await new Promise((resolve) => {
      setImmediate(resolve);
    });
  assert.deepEqual(states, ['blocked']);
  old.close();
  assert.equal(await reading, 1);
  assert.deepEqual(states, ['blocked', 'well']);
  db.close();
});

test('fault 19: a version that is older than the records says so and touches nothing', async () => {
  const { plan, db, save } = setUp();
  const newer = await openDB(plan.name, 99);
  newer.close();
  await assert.rejects(save(1), code('outdated'));
  db.close();
});

test('fault 21: an upgrade that is killed at any step leaves the records as they were', async () => {
  // Every step of the upgrade is a call on the database; the kill comes before, between and after them.
  for (const from of [0, 1]) {
    for (let kill = 0; ; kill++) {
      const { plan, db } = setUp();
      if (from === 1) (await versionOne(plan.name)).close();
      let calls = 0;
      const createObjectStore = IDBDatabase.prototype.createObjectStore;
      const dying: typeof createObjectStore = function (this: IDBDatabase, ...given) {
        if (calls++ === kill) throw new Error('killed');
        return createObjectStore.apply(this, given);
      };
      let survived = true;
      await replaced(IDBDatabase.prototype, 'createObjectStore', dying, async () => {
        await db
          .read(['meta'], (tx) => tx.objectStore('meta').count())
          .catch(() => {
            survived = false;
          });
      });
      db.close();
      if (!survived) await looksAsBefore(plan.name, from);
      const again = createDatabase<PersonSchema>(plan, () => undefined);
      const [rows, drafts] = await again.read(['events', 'drafts'], (tx) =>
        Promise.all([tx.objectStore('events').getAll(), tx.objectStore('drafts').count()]),
      );
      assert.deepEqual(
        rows.map((one) => [...one.box]),
        from === 1 ? [[1, 2, 3]] : [],
        `killed at call ${kill} of an upgrade from ${from}`,
      );
      assert.equal(drafts, 0);
      again.close();
      if (survived) {
        assert.ok(kill > 0 && kill === calls, 'each step was killed once');
        break;
      }
    }
  }
});

async function looksAsBefore(name: string, from: number): Promise<void> {
  const found = (await indexedDB.databases()).find((one) => one.name === name);
  assert.equal(found?.version ?? 0, from);
}

/** As browsers tell a page that it is put away, or left for good. */
const hidden = (persisted: boolean) => Object.assign(new Event('pagehide'), { persisted });

test('a page that is put away keeps nobody waiting, and goes on when it is shown again', async () => {
  const page = new EventTarget();
  const person = newId();
  const { db, save, read, states } = setUp(person, page);
  const other = setUp(person);
  await save(1);
  const saving = db.write(['meta'], async (tx) => {
    await tx.objectStore('meta').put({ key: 'n', number: 2 });
    page.dispatchEvent(hidden(true));
    await tx.objectStore('meta').put({ key: 'n', number: 3 });
  });
  await assert.rejects(
    saving,
    (error: unknown) => error instanceof StoreError && /was left while this was being saved/.test(error.message),
  );
  assert.equal(await other.read(), 1, 'nothing of what was not finished is there, and nobody waits for it');
  let done = false;
  const reading = read().then((number) => {
    done = true;
    return number;
  });
  await other.save(7);
  assert.equal(done, false, 'it does nothing while it is put away');
  page.dispatchEvent(new Event('pageshow'));
  assert.equal(await reading, 7);
  await save(8);
  assert.equal(await other.read(), 8);
  assert.deepEqual(states, ['well']);
  db.close();
  other.db.close();
});

test('what is read when a page is put away is read again; a page that is left for good ends nothing itself', async () => {
  const page = new EventTarget();
  const { db, save, read } = setUp(newId(), page);
  await save(1);
  let times = 0;
  const number = await db.read(['meta'], async (tx) => {
    times += 1;
    if (times === 1) {
      page.dispatchEvent(hidden(true));
      setTimeout(() => page.dispatchEvent(new Event('pageshow')));
    }
    return (await tx.objectStore('meta').get('n'))?.number;
  });
  assert.deepEqual([number, times], [1, 2]);
  await db.write(['meta'], async (tx) => {
    page.dispatchEvent(hidden(false));
    await tx.objectStore('meta').put({ key: 'n', number: 4 });
  });
  assert.equal(await read(), 4);
  db.close();
});
