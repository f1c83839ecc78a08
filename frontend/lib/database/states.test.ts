import 'fake-indexeddb/auto';
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { newId } from '../bytes';
import { createDatabase } from './database';
import { keyDatabasePlan, personPlan } from './rows';
import { createDatabaseStates } from './states';

test('of several databases the worst state is shown, until that one is well again or closed', () => {
  const states = createDatabaseStates();
  const [keys, rows, lock] = [states.source(), states.source(), states.source()];
  keys('well');
  assert.equal(states.worst.value, 'well');
  rows('full');
  keys('well');
  lock('blocked');
  assert.equal(states.worst.value, 'full', 'what works elsewhere does not hide it');
  rows('well');
  assert.equal(states.worst.value, 'blocked');
  lock('well');
  rows('deleted');
  lock('blocked');
  lock('well');
  assert.equal(states.worst.value, 'deleted');
});

test('a database that is closed has no say any more', async () => {
  const states = createDatabaseStates();
  const plan = personPlan(newId());
  const [rows, keys] = [createDatabase(plan, states.source()), createDatabase({ ...keyDatabasePlan, name: newId() }, states.source())];
  const read = () => rows.read(['meta'], (tx) => tx.objectStore('meta').get('n'));
  await read();
  await new Promise((resolve) => {
    indexedDB.deleteDatabase(plan.name).onsuccess = resolve;
  });
  await keys.read(['keepers'], (tx) => tx.objectStore('keepers').getAll());
  assert.equal(states.worst.value, 'deleted');
  rows.close();
  assert.equal(states.worst.value, 'well');
  await assert.rejects(read());
  assert.equal(states.worst.value, 'well');
  keys.close();
});
