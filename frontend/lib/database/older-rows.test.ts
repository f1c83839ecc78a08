import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import { openDB } from 'idb';
import { createFakeServer } from '../../test/fake-server';
import { newTablet, openRowsOf, openTablet, TEAM } from '../../test/tablet';
import { createCipher } from '../crypto/cipher';
import { openRing } from '../crypto/key-ring';
import { personStores } from './rows';

type AnyRow = Readonly<Record<string, unknown>> & { readonly key: string };
interface Recorded {
  readonly tablet: string;
  readonly client: string;
  readonly visit: string;
  readonly raw: string;
  readonly stores: Readonly<Record<string, readonly AnyRow[]>>;
}

/** A database as version 3 left it, under the person's id of then: what is in boxes is bound to it. */
const person = 'person-before';
const recorded = JSON.parse(readFileSync(join('testdata', 'tablet', 'rows-3.json'), 'utf8')) as Recorded;
const name = `doorsill-${person}`;

async function putBack(): Promise<void> {
  await new Promise((resolve) => {
    indexedDB.deleteDatabase(name).onsuccess = resolve;
  });
  const db = await openDB(name, 3, {
    upgrade: (made) => {
      const events = made.createObjectStore('events', { keyPath: 'key' });
      events.createIndex('subject', 'subject');
      events.createIndex('own', 'own', { unique: true });
      made.createObjectStore('subjects', { keyPath: 'key' }).createIndex('stale', 'stale');
      for (const store of ['results', 'checklists', 'meta', 'drafts', 'sealed']) made.createObjectStore(store, { keyPath: 'key' });
    },
  });
  for (const store of personStores) for (const row of recorded.stores[store] ?? []) await db.put(store, withBytes(row));
  db.close();
}

function withBytes(row: AnyRow): AnyRow {
  const bytes = (value: unknown) => (value as { readonly bytes?: string } | null)?.bytes;
  return Object.fromEntries(
    Object.entries(row).map(([field, value]) => [
      field,
      bytes(value) === undefined ? value : new Uint8Array(Buffer.from(bytes(value) ?? '', 'base64')),
    ]),
  ) as AnyRow;
}

async function keys() {
  return { person, tablet: recorded.tablet, ...(await openRing(person, new Uint8Array(Buffer.from(recorded.raw, 'base64')), [])) };
}

/** Opens it; all of it is sealed as of today then. */
async function open() {
  const tablet = await openTablet(createFakeServer(TEAM), await keys());
  const { workspace, key } = tablet;
  const meta = await workspace.store.db.read(['meta'], (tx) => tx.objectStore('meta').getAll());
  const cipher = createCipher(person, key);
  for (const store of ['events', 'subjects', 'drafts'] as const)
    for (const row of await workspace.store.db.read([store], (tx) => tx.objectStore(store).getAll()))
      if (row.box !== undefined)
        assert.equal(await cipher.isOlder(store, row.key, row.box), false, `${store} ${row.key} is sealed as one of today`);
  assert.equal(meta.find((row) => row.key === 'organisation')?.text, undefined, 'the key of the organisation lies sealed');
  return tablet;
}

/** Looks at what a person would look for. */
async function holdsAll(): Promise<void> {
  const { workspace } = await open();
  assert.equal(workspace.state.value.altered.rows, '');
  assert.equal(workspace.projections.clients.value[0]?.name, 'Invented Client');
  assert.equal((await workspace.store.held(recorded.visit)).events.length, 4);
  assert.deepEqual(workspace.drafts.load('typed:/x'), [{ label: 'Note', nth: 0, text: 'half a word' }]);
  assert.deepEqual((await workspace.store.secret('organisation')) as object, {
    id: 'key-1',
    key: 'BP7asxglGRalRpAIZUVSop1swVec2AbScVjcOGI2t9P8f/s3nftO9+7/7tp7b2PVREct0K7LLIkPXbChS637Axk=',
  });
  assert.equal(workspace.state.value.waiting, 2);
  assert.deepEqual(
    (await workspace.store.db.read(['sealed'], (tx) => tx.objectStore('sealed').getAll())).map(({ from, to }) => [from, to]),
    [[4, 5]],
  );
  await workspace.close();
}

test('rows of before there was a root get one at the first unlocking, and nothing of them is lost', async () => {
  await putBack();
  await holdsAll();
  await holdsAll();
});

test('rows of before there was a root are whole at whatever step of getting one the page is killed', async () => {
  const { put } = IDBObjectStore.prototype;
  for (let kill = 0; ; kill++) {
    await putBack();
    let calls = 0;
    IDBObjectStore.prototype.put = function (this: IDBObjectStore, ...given) {
      if (calls++ === kill) throw new Error('killed');
      return put.apply(this, given);
    };
    const { tablet, ...ring } = await keys();
    const survived = await openRowsOf(person, ring, tablet).then(
      ({ db }) => {
        db.close();
        return true;
      },
      () => false,
    );
    IDBObjectStore.prototype.put = put;
    await holdsAll();
    if (survived) {
      assert.ok(kill > 10 && calls === kill, 'each step was killed once');
      break;
    }
  }
});

test('rows whose root was taken away are not taken for rows of before', async () => {
  await putBack();
  await holdsAll();
  const db = await openDB(name);
  await db.delete('meta', 'root');
  // One box of before is not enough either: somebody may have kept it.
  for (const row of recorded.stores['subjects'] ?? []) await db.put('subjects', withBytes(row));
  db.close();
  const { workspace } = await open();
  assert.notEqual(workspace.state.value.altered.rows, '');
  await workspace.close();
});

test('a new tablet begins under a root', async () => {
  const { workspace } = await newTablet(createFakeServer(TEAM));
  assert.equal(workspace.state.value.altered.rows, '');
  assert.ok(await workspace.store.db.read(['meta'], (tx) => tx.objectStore('meta').get('root')));
  await workspace.close();
});
