import assert from 'node:assert/strict';
import { test } from 'node:test';
import { createFakeServer } from '../../test/fake-server';
import { newTablet, openClientOn, TEAM } from '../../test/tablet';
import { createFreshRows, markStale, type Marks } from './stale';

async function setUp() {
  const tablet = await newTablet(createFakeServer(TEAM));
  const client = await openClientOn(tablet);
  const { db } = tablet.workspace.store;
  const mark = (): Promise<Marks> => db.write(['subjects'], (tx) => markStale(tx.objectStore('subjects'), client));
  const row = () => db.read(['subjects'], (tx) => tx.objectStore('subjects').get(client));
  return { client, db, mark, row, rows: createFreshRows(db) };
}

const box = new Uint8Array([1, 2, 3]);

test('a fold that knows all that came in takes the mark away; one that does not leaves row and mark', async () => {
  const { client, mark, row, rows } = await setUp();
  const [first, second] = [await mark(), await mark()];
  assert.equal(second.before, first.after);
  await rows.put({ key: client, box, mark: first.after });
  assert.equal((await row())?.stale, 1);
  assert.notDeepEqual((await row())?.box, box);
  await rows.put({ key: client, box, mark: second.after });
  assert.deepEqual(await row(), { key: client, box, mark: second.after });
});

test('the fold of a subject that has left the device brings nothing of it back', async () => {
  const { client, db, mark, row, rows } = await setUp();
  const { after } = await mark();
  await db.write(['subjects'], (tx) => tx.objectStore('subjects').delete(client));
  await rows.put({ key: client, box, mark: after });
  await rows.put({ key: client, box });
  assert.equal(await row(), undefined);
});
