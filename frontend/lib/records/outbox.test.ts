import assert from 'node:assert/strict';
import { test } from 'node:test';
import { createFakeServer } from '../../test/fake-server';
import { answerOn, newTablet, openClientOn, openTablet, startVisitOn, TEAM } from '../../test/tablet';
import { StoreError } from '../errors';

test('numbers count without gaps, also when many taps come at once and in two tabs', async () => {
  const server = createFakeServer(TEAM);
  const first = await newTablet(server);
  const visit = await startVisitOn(first, await openClientOn(first));
  const taps = Array.from({ length: 20 }, (_, i) => answerOn(first, visit, `item-${i}`, '3'));
  const refs = await Promise.all(taps);
  assert.deepEqual(
    refs,
    taps.map((_, i) => `${first.tablet}:${i + 3}`),
  );
  const second = await openTablet(server, first);
  assert.equal(await answerOn(second, visit, 'item-0', '2'), `${first.tablet}:23`);
  assert.equal(await answerOn(first, visit, 'item-1', '2'), `${first.tablet}:24`);
});

test('what two tabs write about one client at the same time is shown whole after a restart', async () => {
  const server = createFakeServer(TEAM);
  const one = await newTablet(server);
  const client = await openClientOn(one, 'Marrow Quillby');
  const other = await openTablet(server, one); // hears nothing of the first
  await other.workspace.projections.write('client-changed', client, { fields: { course: 'fast' } });
  await one.workspace.projections.write('client-changed', client, { fields: { ref: 'R-9' } });
  await other.workspace.projections.write('client-changed', client, { fields: { name: 'Marrow Tansy' } });
  await Promise.all([one.workspace.close(), other.workspace.close()]);
  const again = await openTablet(server, one);
  assert.deepEqual(
    again.workspace.projections.clients.value.map((card) => [card.ref, card.name, card.course]),
    [['R-9', 'Marrow Tansy', 'fast']],
  );
});

test('a full disk rejects with a plain sentence and uses up no number', async () => {
  const tablet = await newTablet(createFakeServer(TEAM));
  const client = await openClientOn(tablet);
  const original = IDBObjectStore.prototype.add;
  IDBObjectStore.prototype.add = function full(this: IDBObjectStore): IDBRequest<IDBValidKey> {
    throw new DOMException('no room', 'QuotaExceededError');
  };
  try {
    await assert.rejects(
      startVisitOn(tablet, client),
      (error: unknown) => error instanceof StoreError && error.code === 'full' && /no room left/.test(error.message),
    );
  } finally {
    IDBObjectStore.prototype.add = original;
  }
  assert.equal(tablet.workspace.state.value.waiting, 1);
  assert.equal(tablet.workspace.projections.clients.value[0]?.visits.length, 0, 'what was not saved is not shown');
  const visit = await startVisitOn(tablet, client);
  assert.equal(await answerOn(tablet, visit, 'pos-head', '3'), `${tablet.tablet}:3`);
});

test('a transaction that the browser aborts rejects and never hangs', async () => {
  const tablet = await newTablet(createFakeServer(TEAM));
  const original = IDBObjectStore.prototype.put;
  IDBObjectStore.prototype.put = function abort(this: IDBObjectStore, ...args: Parameters<typeof original>): IDBRequest<IDBValidKey> {
    const request = original.apply(this, args);
    this.transaction.abort();
    return request;
  };
  try {
    await assert.rejects(openClientOn(tablet), StoreError);
  } finally {
    IDBObjectStore.prototype.put = original;
  }
  assert.equal(tablet.workspace.state.value.waiting, 0);
  assert.ok(await openClientOn(tablet));
});

test('nothing readable lies in the database', async () => {
  const tablet = await newTablet(createFakeServer(TEAM));
  const client = await openClientOn(tablet, 'Secretname Person');
  await answerOn(tablet, await startVisitOn(tablet, client), 'pos-head', '3');
  await tablet.workspace.loop.now();
  const rows = await tablet.workspace.store.db.read(['events', 'subjects', 'meta', 'results', 'checklists'], async (tx) => {
    const all = ['events', 'subjects', 'meta', 'results', 'checklists'] as const;
    return Promise.all(all.map((store) => tx.objectStore(store).getAll()));
  });
  const text = JSON.stringify(rows, (_key, value: unknown) =>
    value instanceof Uint8Array ? Buffer.from(value).toString('latin1') : value,
  );
  for (const word of ['Secretname', 'pos-head', 'answered', '2026-01-05']) assert.equal(text.includes(word), false, word);
});

test('a row that was tampered with is reported and takes nothing else down', async () => {
  const server = createFakeServer(TEAM);
  const tablet = await newTablet(server);
  const client = await openClientOn(tablet);
  const visit = await startVisitOn(tablet, client);
  await answerOn(tablet, visit, 'pos-head', '3');
  await tablet.workspace.store.db.write(['events', 'subjects'], async (tx) => {
    const row = await tx.objectStore('events').get(`${tablet.tablet}:3`);
    assert.ok(row);
    const box = row.box.slice();
    box[20] = (box[20] ?? 0) ^ 1;
    await tx.objectStore('events').put({ ...row, box });
    const shown = await tx.objectStore('subjects').get(visit);
    if (shown) await tx.objectStore('subjects').put({ ...shown, stale: 1 });
  });
  tablet.workspace.close();
  const again = await openTablet(server, tablet);
  assert.equal(again.workspace.state.value.error?.code, 'damaged');
  assert.equal(again.workspace.projections.clients.value[0]?.visits.length, 1);
  await again.workspace.loop.now();
  assert.equal(again.workspace.state.value.waiting, 0, 'the damaged row does not hold up the others');
  assert.equal(again.workspace.state.value.refused[0]?.ref, `${tablet.tablet}:3`);
});
