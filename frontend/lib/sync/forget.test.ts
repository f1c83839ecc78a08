import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { KeyStore } from '../session/key-store';
import { clearTablet } from '../session/withdraw';
import { createFakeServer, type FakeServer } from '../../test/fake-server';
import { answerOn, newTablet, openClientOn, openTablet, startVisitOn, TEAM, type FakeTablet } from '../../test/tablet';

const DAY_MS = 24 * 3_600_000;

/** Days on which the tablet exchanges once. */
async function days(server: FakeServer, count: number, ...tablets: readonly FakeTablet[]): Promise<void> {
  for (let day = 0; day < count; day++) {
    server.now += DAY_MS;
    for (const one of tablets) await one.workspace.loop.now();
  }
}

let serverNumber = 0;

/** What the lead decides online. */
function assign(server: FakeServer, client: string, status: string): void {
  serverNumber += 1;
  server.entries.push({
    pos: server.entries.length + 1,
    received: '',
    raw: {
      tablet: 'server',
      n: serverNumber,
      kind: 'client-assigned',
      subject: client,
      author: 'lead',
      at: new Date(server.now).toISOString(),
      zone: 'Etc/UTC',
      schema: 1,
      seen: 0,
      body: { assignee: '', status, version: serverNumber, by: 'lead' },
    },
  });
}

/** A signed visit of a client who is closed, and an open client, all sent. */
async function closedClient(own = 'Own Client') {
  const server = createFakeServer(TEAM);
  const tablet = await newTablet(server);
  const client = await openClientOn(tablet, own);
  const visit = await startVisitOn(tablet, client);
  await answerOn(tablet, visit, 'pos-head', '3');
  await tablet.workspace.projections.write('visit-signed', visit, { level: 'practise', result: 'ab'.repeat(32), name: 'Invented' });
  const open = await openClientOn(tablet, 'Open Client');
  await tablet.workspace.loop.now();
  assign(server, client, 'closed');
  await tablet.workspace.loop.now();
  return { server, tablet, client, visit, open };
}

const namesOn = (one: FakeTablet) => one.workspace.projections.clients.value.map((card) => card.name);
const keysOn = (one: FakeTablet) => one.workspace.store.db.read(['events'], (tx) => tx.objectStore('events').getAllKeys());

test('a closed client leaves the tablet when the server has had everything for thirty days, and not a day before', async () => {
  const { server, tablet, client, visit, open } = await closedClient();
  await days(server, 30, tablet);
  assert.deepEqual(namesOn(tablet), ['Open Client', 'Own Client']);
  await days(server, 3, tablet);
  assert.deepEqual(namesOn(tablet), ['Open Client']);
  assert.deepEqual(await keysOn(tablet), [`${tablet.tablet}:5`]);
  assert.equal(tablet.workspace.projections.openClient(client).value, null);
  const left = await tablet.workspace.store.db.read(['subjects', 'results'], async (tx) => [
    await tx.objectStore('subjects').getAllKeys(),
    await tx.objectStore('results').getAllKeys(),
  ]);
  assert.deepEqual(left, [[open], []], 'nothing that was shown of them is left on the disk');
  assert.notEqual(visit, '');
  tablet.workspace.close();
  const again = await openTablet(server, tablet);
  await answerOn(again, await startVisitOn(again, open), 'pos-head', '2');
  await again.workspace.loop.now();
  assert.equal(server.lines.has(`${tablet.tablet}:7`), true, 'numbers go on after those that left');
});

for (const [what, more] of [
  [
    'a visit is not signed',
    async (one: FakeTablet, client: string) => {
      await startVisitOn(one, client);
    },
  ],
  [
    'a run is still in the making',
    async (one: FakeTablet, _: string, visit: string) => {
      one.workspace.drafts.keep(visit, { metres: '12' });
      await one.workspace.drafts.close();
    },
  ],
  [
    'an entry was set aside',
    async (one: FakeTablet, client: string) => {
      await one.workspace.projections.write('client-changed', client, { fields: { ref: 'x' } });
    },
  ],
] as const) {
  test(`a closed client stays on the tablet while ${what}`, async () => {
    const { server, tablet, client, visit } = await closedClient();
    server.judge = (event) => (event.kind === 'client-changed' ? 'out-of-range' : '');
    await more(tablet, client, visit);
    await days(server, 40, tablet);
    assert.deepEqual(namesOn(tablet), ['Open Client', 'Own Client']);
  });
}

test('a closed client stays on the tablet while an item needs a choice', async () => {
  const { server, tablet, client } = await closedClient();
  const other = await newTablet(server);
  await other.workspace.loop.now();
  const visit = await startVisitOn(tablet, client);
  await tablet.workspace.loop.now();
  await other.workspace.loop.now();
  await answerOn(tablet, visit, 'pos-head', '3');
  await answerOn(other, visit, 'pos-head', '1');
  await other.workspace.loop.now();
  await tablet.workspace.loop.now();
  await other.workspace.projections.write('visit-signed', visit, { level: 'practise', result: 'ab'.repeat(32), name: 'Invented' });
  await days(server, 40, other, tablet);
  assert.deepEqual(namesOn(tablet), ['Open Client', 'Own Client']);
});

test('what waits for a network stays for as long as it takes', async () => {
  const { server, tablet, client } = await closedClient();
  await days(server, 28, tablet);
  await tablet.workspace.projections.write('client-changed', client, { fields: { ref: 'late' } });
  for (let day = 0; day < 20; day++) {
    server.now += DAY_MS;
    server.faults.push('lose-request');
    await tablet.workspace.loop.now();
  }
  assert.equal(tablet.workspace.state.value.waiting, 1);
  assert.deepEqual(namesOn(tablet), ['Open Client', 'Own Client']);
  await days(server, 29, tablet);
  assert.deepEqual(namesOn(tablet), ['Open Client', 'Own Client'], 'thirty days begin when it was sent');
  await days(server, 4, tablet);
  assert.deepEqual(namesOn(tablet), ['Open Client']);
});

test('fault 22: a clock that jumps by ten years, here or on the server, makes nothing leave early', async () => {
  const { server, tablet } = await closedClient();
  const TEN_YEARS = 3650 * DAY_MS;
  tablet.ahead.ms = TEN_YEARS;
  await days(server, 5, tablet);
  tablet.ahead.ms = 0;
  await days(server, 5, tablet);
  server.now += TEN_YEARS;
  tablet.ahead.ms = -TEN_YEARS;
  await days(server, 5, tablet);
  server.now -= TEN_YEARS;
  tablet.ahead.ms = 0;
  await days(server, 5, tablet);
  assert.deepEqual(namesOn(tablet), ['Open Client', 'Own Client'], 'twenty days have passed');
  // Both at once, as after a flat battery next to a server in the same drawer.
  server.now += TEN_YEARS;
  await days(server, 1, tablet);
  assert.deepEqual(namesOn(tablet), ['Open Client', 'Own Client'], 'no step counts for more than a week');
});

test('when a closed client is opened again, all of them is back at once', async () => {
  const { server, tablet, client, visit } = await closedClient();
  await days(server, 33, tablet);
  assert.deepEqual(namesOn(tablet), ['Open Client']);
  assign(server, client, 'active');
  server.faults.push(null, null, 'lose-request'); // the push, the page with the news, all that was said before
  await answerOn(tablet, await startVisitOn(tablet, await openClientOn(tablet, 'Another')), 'pos-head', '3');
  await tablet.workspace.loop.now();
  assert.deepEqual(namesOn(tablet), ['Another', 'Open Client'], 'nobody is shown half of it');
  await tablet.workspace.loop.now();
  assert.deepEqual(namesOn(tablet), ['Another', 'Open Client', 'Own Client']);
  const card = tablet.workspace.projections.clients.value.find((one) => one.id === client);
  assert.deepEqual([card?.status, card?.visits[0]?.id, card?.visits[0]?.answered], ['active', visit, 1]);
  await days(server, 40, tablet);
  assert.deepEqual(namesOn(tablet), ['Another', 'Open Client', 'Own Client'], 'and stays');
});

test('a restored server is sent what is still here and nothing in place of the rest', async () => {
  const { server, tablet, open } = await closedClient();
  await days(server, 33, tablet);
  await answerOn(tablet, await startVisitOn(tablet, open), 'pos-head', '3');
  await tablet.workspace.loop.now();
  // A copy of five days ago knows numbers 1 to 5.
  server.lines.delete(`${tablet.tablet}:6`);
  server.lines.delete(`${tablet.tablet}:7`);
  server.entries.splice(6);
  server.acks.set(tablet.tablet, 5);
  server.log = 'log-2';
  const [sent] = [server.pushes.length];
  await tablet.workspace.loop.now();
  assert.deepEqual([server.pushes.slice(sent), tablet.workspace.state.value.refused, tablet.workspace.state.value.waiting], [[3], [], 0]);
  assert.equal(server.lines.has(`${tablet.tablet}:7`), true);
  assert.deepEqual(namesOn(tablet), ['Open Client', 'Own Client'], 'the new log is taken in whole');
});

test('a server restored from a copy older than thirty days is told which entries are lost, and gets the others', async () => {
  const { server, tablet } = await closedClient();
  await days(server, 33, tablet);
  server.restore('log-2');
  await tablet.workspace.loop.now();
  assert.deepEqual(
    tablet.workspace.state.value.refused.map((one) => one.ref),
    [1, 2, 3, 4].map((n) => `${tablet.tablet}:${n}`),
  );
  assert.match(server.lines.get(`${tablet.tablet}:5`) ?? '', /Open Client/);
  assert.equal(tablet.workspace.state.value.waiting, 0);
});

test('a withdrawn tablet clears itself also when a restored server does not ask for what has left it', async () => {
  const { server, tablet, open } = await closedClient();
  assign(server, open, 'closed');
  await days(server, 33, tablet);
  assert.deepEqual(await keysOn(tablet), []);
  server.log = 'log-2'; // a copy that had everything
  await tablet.workspace.loop.now();
  const keyStore = {
    all: () => Promise.resolve([]),
    forget: () => Promise.resolve(),
    isEmpty: () => Promise.resolve(false),
  } as unknown as KeyStore;
  const who = { keyRowId: 'k', person: tablet.person, tablet: tablet.tablet, key: tablet.key, setKeys: tablet.setKeys };
  assert.equal(
    await clearTablet({
      http: () => Promise.resolve({ status: 204, json: null }),
      keyStore,
      workspace: { ...tablet.workspace, pushOnly: () => Promise.resolve() },
      who,
      notices: () => () => undefined,
    }),
    'cleared',
  );
});

test('what was written about a team that was taken off the device leaves it after thirty days', async () => {
  const { server, tablet } = await closedClient();
  await tablet.workspace.removeDownload(TEAM);
  await days(server, 30, tablet);
  assert.equal((await keysOn(tablet)).length, 5, 'a restored server may ask for it');
  await tablet.workspace.teamDownloads.choose(TEAM, 'on');
  await tablet.workspace.loop.now();
  await tablet.workspace.removeDownload(TEAM);
  await days(server, 33, tablet);
  assert.deepEqual(await keysOn(tablet), []);
  await tablet.workspace.teamDownloads.choose(TEAM, 'on');
  await tablet.workspace.loop.now();
  assert.deepEqual(namesOn(tablet), ['Open Client', 'Own Client'], 'and comes back when the team does');
});

test('a browser that is killed while a client leaves has all of them or none', async () => {
  const { server, tablet } = await closedClient();
  await days(server, 31, tablet);
  const original = IDBObjectStore.prototype.delete;
  let deletes = 0;
  IDBObjectStore.prototype.delete = function killed(this: IDBObjectStore, ...args: Parameters<typeof original>): IDBRequest<undefined> {
    const request = original.apply(this, args);
    if (this.name === 'events' && ++deletes % 2 === 0) this.transaction.abort();
    return request;
  };
  try {
    await days(server, 2, tablet);
  } finally {
    IDBObjectStore.prototype.delete = original;
  }
  assert.ok(deletes >= 2);
  tablet.workspace.close();
  const again = await openTablet(server, tablet);
  assert.deepEqual(namesOn(again), ['Open Client', 'Own Client']);
  assert.equal((await keysOn(again)).length, 6);
  await days(server, 1, again);
  assert.deepEqual(namesOn(again), ['Open Client']);
});
