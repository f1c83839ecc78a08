import assert from 'node:assert/strict';
import { test } from 'node:test';
import { randomBytes } from '../bytes';
import { createCipher } from '../crypto/cipher';
import { openRing, type KeyRing } from '../crypto/key-ring';
import { StoreError } from '../errors';
import { createFakeServer } from '../../test/fake-server';
import { newTablet, openRowsOf, openTablet, TEAM } from '../../test/tablet';
import { openDrafts } from './drafts';
import { createEncryptedStore } from './encrypted-store';
import type { PersonDatabase } from './guarded';

/** A database whose writes wait for the test, as on a slow disk, or fail. */
function slowDisk(db: PersonDatabase) {
  const disk = { writes: 0, full: false, gate: null as Promise<void> | null };
  const slow: PersonDatabase = {
    ...db,
    write: async (stores, work) => {
      disk.writes += 1;
      await disk.gate;
      if (disk.full) throw new StoreError('full', 'No room.');
      return db.write(stores, work);
    },
  };
  return { disk, slow };
}

async function setUp() {
  const person = `p-${Math.random()}`;
  const ring = await openRing(person, randomBytes(32), []);
  const open = async (by: KeyRing = ring) => {
    const damaged: string[] = [];
    const { disk, slow } = slowDisk((await openRowsOf(person, by)).db);
    return {
      disk,
      damaged,
      store: createEncryptedStore(slow, createCipher(person, by.key), (_store, row) => {
        damaged.push(row);
      }),
    };
  };
  return { open };
}

test('a page killed between two touches loses at most the write that was under way', async () => {
  const { open } = await setUp();
  const { disk, store } = await open();
  const drafts = await openDrafts(store);
  drafts.keep('v1', { things: 1, route: 'to the kitchen' });
  await drafts.close();
  disk.gate = new Promise(() => undefined); // The power goes while this one is written.
  drafts.keep('v1', { things: 2, route: 'to the kitchen' });
  const after = await openDrafts((await open()).store);
  assert.deepEqual(after.load('v1'), { things: 1, route: 'to the kitchen' });
});

test('while one write is under way the next holds only the latest state', async () => {
  const { open } = await setUp();
  const { disk, store } = await open();
  const drafts = await openDrafts(store);
  let lift: () => void = () => undefined;
  disk.gate = new Promise((resolve) => {
    lift = resolve;
  });
  for (let things = 1; things <= 100; things++) {
    drafts.keep('v1', { things });
    assert.deepEqual(drafts.load('v1'), { things }, 'the screen does not wait');
  }
  lift();
  await drafts.close();
  assert.equal(disk.writes, 2);
  assert.deepEqual((await openDrafts((await open()).store)).load('v1'), { things: 100 });
});

test('a draft that is done leaves no row, also when it was still being written', async () => {
  const { open } = await setUp();
  const drafts = await openDrafts((await open()).store);
  drafts.keep('v1', { things: 1 });
  drafts.drop('v1');
  await drafts.close();
  assert.equal((await openDrafts((await open()).store)).load('v1'), null);
});

test('nothing of a draft lies open, and another key does not read it', async () => {
  const { open } = await setUp();
  const { store } = await open();
  const drafts = await openDrafts(store);
  drafts.keep('v1', { route: 'to Mo’s kitchen' });
  await drafts.close();
  const [row] = await store.db.read(['drafts'], (tx) => tx.objectStore('drafts').getAll());
  assert.equal(
    Buffer.from(row?.box ?? [])
      .toString('latin1')
      .includes('kitchen'),
    false,
  );
  const other = await open(await openRing('p', randomBytes(32), []));
  assert.equal((await openDrafts(other.store)).load('v1'), null);
  assert.deepEqual(other.damaged, ['v1']);
});

test('a draft put under another visit does not open', async () => {
  const { open } = await setUp();
  const { store, damaged } = await open();
  const drafts = await openDrafts(store);
  drafts.keep('v1', { things: 3 });
  await drafts.close();
  const [row] = await store.db.read(['drafts'], (tx) => tx.objectStore('drafts').getAll());
  assert.ok(row);
  await store.db.write(['drafts'], (tx) => tx.objectStore('drafts').put({ ...row, key: 'v2' }));
  assert.equal((await openDrafts(store)).load('v2'), null);
  assert.deepEqual(damaged, ['v2']);
});

test('a full disk is told until a later touch is kept', async () => {
  const { open } = await setUp();
  const { disk, store } = await open();
  const drafts = await openDrafts(store);
  disk.full = true;
  drafts.keep('v1', { things: 1 });
  await drafts.close();
  assert.equal(drafts.failing.value.has('v1'), true);
  disk.full = false;
  drafts.keep('v1', { things: 2 });
  await drafts.close();
  assert.equal(drafts.failing.value.has('v1'), false);
});

/** Puts one field into a row, as a form does. */
const field =
  (name: string, value: string) =>
  (row: unknown): unknown => ({ ...(row as object | undefined), [name]: value });

test('what two tabs write into one row at the same moment is all there, and each is told what the other wrote', async () => {
  const { open } = await setUp();
  const told: Record<string, string[]> = { one: [], two: [] };
  const [one, two] = [
    await openDrafts((await open()).store, (key) => told['one']?.push(key)),
    await openDrafts((await open()).store, (key) => told['two']?.push(key)),
  ];
  for (let n = 0; n < 5; n++) {
    one.change('form:v1', field(`one ${n}`, 'x'));
    two.change('form:v1', field(`two ${n}`, 'x'));
  }
  await Promise.all([one.reread('form:v1'), two.reread('form:v1')]);
  await Promise.all([one.reread('form:v1'), two.reread('form:v1')]);
  const names = Object.keys((await openDrafts((await open()).store)).load('form:v1') as object);
  assert.equal(names.length, 10);
  for (const tab of [one, two]) {
    assert.deepEqual(Object.keys(tab.load('form:v1') as object).sort(), names.sort());
    assert.equal(tab.arrived.value?.key, 'form:v1');
  }
  for (const keys of Object.values(told)) assert.ok(keys.length > 0 && keys.every((key) => key === 'form:v1'));
});

test('what a tab wrote alone is no news to it', async () => {
  const { open } = await setUp();
  const drafts = await openDrafts((await open()).store);
  drafts.change('form:v1', field('note', 'x'));
  await drafts.reread('form:v1');
  drafts.change('form:v1', () => undefined);
  await drafts.reread('form:v1');
  assert.deepEqual([drafts.arrived.value, drafts.keys()], [null, []]);
});

test('a change that the browser would not keep goes with the next one', async () => {
  const { open } = await setUp();
  const { disk, store } = await open();
  const drafts = await openDrafts(store);
  disk.full = true;
  drafts.change('form:v1', field('goals', 'to the shop'));
  await drafts.reread('form:v1').catch(() => undefined);
  assert.equal(drafts.failing.value.has('form:v1'), true);
  disk.full = false;
  drafts.change('form:v1', field('risks', 'the terrace'));
  await drafts.close();
  assert.deepEqual((await openDrafts((await open()).store)).load('form:v1'), { goals: 'to the shop', risks: 'the terrace' });
});

test('locking clears the memory and keeps the row, for its own person only', async () => {
  const server = createFakeServer(TEAM);
  const ann = await newTablet(server);
  ann.workspace.drafts.keep('v1', { things: 1 });
  ann.workspace.close();
  assert.equal(ann.workspace.drafts.load('v1'), null);
  const ben = await newTablet(server);
  assert.equal(ben.workspace.drafts.load('v1'), null);
  const again = await openTablet(server, ann);
  assert.deepEqual(again.workspace.drafts.load('v1'), { things: 1 });
});

test('counts that a version before kept in rows of their own are drafts of their visits, and their rows are gone', async () => {
  const { open } = await setUp();
  const { disk, store } = await open();
  const before = await openDrafts(store);
  const typed = { chair: { value: '650', before: '', title: 'The chair' } };
  const count = { clock: { carried: 0, since: null, seen: 9 }, taps: ['left', 'right'] };
  const time = { clock: { carried: 0, since: 5, seen: 9 }, taps: [] };
  before.keep('form:v1', typed);
  before.keep('count/v1/per-sides', count);
  before.keep('time/v1/mnt-clear', time);
  before.keep('count/v2/per-sides', count);
  await before.close();
  disk.full = true;
  const full = await openDrafts(store);
  assert.deepEqual([...full.failing.value].sort(), ['form:v1', 'form:v2'], 'what could not be brought along is said');
  disk.full = false;
  for (const round of ['the first', 'the next']) {
    const after = await openDrafts((await open()).store);
    assert.deepEqual([...after.keys()].sort(), ['form:v1', 'form:v2'], `at ${round} opening`);
    const title = (words: string) => ({ before: null, title: words, path: '/visits/v1' });
    assert.deepEqual(after.load('form:v1'), {
      ...typed,
      'count:count per-sides': { value: count, ...title('A count by touch') },
      'count:time mnt-clear': { value: time, ...title('A time by touch') },
    });
    assert.deepEqual(
      (await store.db.read(['drafts'], (tx) => tx.objectStore('drafts').getAllKeys())).sort(),
      ['form:v1', 'form:v2'],
      'and on the disk',
    );
  }
});

test('a row of drafts that does not open is not written over by counts of before', async () => {
  const { open } = await setUp();
  const { store } = await open();
  const before = await openDrafts(store);
  before.keep('count/v1/per-sides', { taps: ['left'] });
  await before.close();
  const lost = { key: 'form:v1', box: randomBytes(40) };
  await store.db.write(['drafts'], (tx) => tx.objectStore('drafts').put(lost));
  const after = await openDrafts(store);
  assert.deepEqual([...after.keys()], ['count/v1/per-sides']);
  assert.deepEqual(await store.db.read(['drafts'], (tx) => tx.objectStore('drafts').get('form:v1')), lost);
});
