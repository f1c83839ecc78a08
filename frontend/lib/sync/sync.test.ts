import assert from 'node:assert/strict';
import { test } from 'node:test';
import { createFakeServer } from '../../test/fake-server';
import { cursorKey } from '../database/rows';
import { answerOn, newTablet, openClientOn, openTablet, startVisitOn, TEAM } from '../../test/tablet';

async function visitOn() {
  const server = createFakeServer(TEAM);
  const tablet = await newTablet(server);
  const client = await openClientOn(tablet);
  const visit = await startVisitOn(tablet, client);
  await answerOn(tablet, visit, 'pos-head', '3');
  return { server, tablet, client, visit };
}

test('what is saved stays here until it is sent, and each state can be seen', async () => {
  const { server, tablet, client, visit } = await visitOn();
  const card = () => tablet.workspace.projections.clients.value.find((one) => one.id === client);
  assert.equal(card()?.sync, 'here');
  assert.equal(tablet.workspace.state.value.waiting, 3);
  assert.equal(tablet.workspace.state.value.oldestWaiting, '2026-03-02T10:00:00.000Z');
  await tablet.workspace.loop.now();
  assert.equal(card()?.sync, 'sent');
  assert.equal(card()?.visits[0]?.id, visit);
  assert.equal(tablet.workspace.state.value.waiting, 0);
  assert.equal(server.entries.length, 3);
});

test('fault 01: a request that never arrives loses nothing', async () => {
  const { server, tablet } = await visitOn();
  server.faults.push('lose-request');
  await tablet.workspace.loop.now();
  assert.equal(tablet.workspace.state.value.waiting, 3);
  assert.equal(tablet.workspace.state.value.online, false);
  assert.equal(tablet.workspace.state.value.error, null, 'having no network is a state, not a problem');
  await tablet.workspace.loop.now();
  assert.equal(server.entries.length, 3);
});

test('fault 02: an answer that is lost after the commit makes no duplicates', async () => {
  const { server, tablet } = await visitOn();
  server.faults.push('lose-answer');
  await tablet.workspace.loop.now();
  assert.equal(server.entries.length, 3);
  assert.equal(tablet.workspace.state.value.waiting, 3, 'the tablet does not know yet');
  await tablet.workspace.loop.now();
  assert.equal(server.entries.length, 3);
  assert.equal(tablet.workspace.state.value.waiting, 0);
});

test('after a gap the tablet sends again from where the server stands', async () => {
  const { server, tablet, visit } = await visitOn();
  await tablet.workspace.loop.now();
  server.acks.set(tablet.tablet, 1);
  await answerOn(tablet, visit, 'pos-pelvis', '2');
  await tablet.workspace.loop.now();
  assert.equal(server.acks.get(tablet.tablet), 4);
  assert.equal(server.entries.length, 4);
  assert.equal(tablet.workspace.state.value.waiting, 0);
});

test('a restored server gets everything again, byte for byte', async () => {
  const { server, tablet, visit } = await visitOn();
  await tablet.workspace.loop.now();
  const before = new Map(server.lines);
  server.restore('log-2');
  await answerOn(tablet, visit, 'pos-pelvis', '2');
  await tablet.workspace.loop.now();
  assert.equal(server.entries.length, 4);
  for (const [ref, line] of before) assert.equal(server.lines.get(ref), line);
  assert.equal(tablet.workspace.state.value.waiting, 0);
  assert.equal(await tablet.workspace.store.text('log'), 'log-2');
});

test('a name of the log that was damaged on its way to the server begins nothing anew', async () => {
  const { server, tablet, visit } = await visitOn();
  await tablet.workspace.loop.now();
  await answerOn(tablet, visit, 'pos-pelvis', '2');
  const { store } = tablet.workspace;
  const place = await store.place(TEAM);
  assert.equal(await store.number('ack'), 3);
  server.faults.push('bent-log');
  await tablet.workspace.loop.now();
  assert.equal(tablet.workspace.state.value.waiting, 1);
  assert.match(tablet.workspace.state.value.error?.message ?? '', /damaged/);
  await tablet.workspace.loop.now();
  assert.equal(tablet.workspace.state.value.waiting, 0);
  server.faults.push(null, 'bent-log');
  await tablet.workspace.loop.now();
  assert.equal(await store.number('ack'), 4, 'what the server has is not sent again');
  assert.ok((await store.place(TEAM)).after > place.after, 'and nothing is asked for again');
  assert.equal(server.entries.length, 4);
});

test('a restored server is noticed when there is nothing to send', async () => {
  const { server, tablet } = await visitOn();
  await tablet.workspace.loop.now();
  server.restore('log-3');
  await tablet.workspace.loop.now();
  assert.equal(server.entries.length, 3);
});

test('a cursor behind the end of the log is put back to its beginning', async () => {
  const server = createFakeServer(TEAM);
  const [one, two] = [await newTablet(server), await newTablet(server)];
  const client = await openClientOn(one);
  await one.workspace.loop.now();
  await two.workspace.store.db.write(['meta'], (tx) => tx.objectStore('meta').put({ key: cursorKey(TEAM), number: 999, done: 1 }));
  await two.workspace.loop.now();
  assert.deepEqual(
    two.workspace.projections.clients.value.map((each) => each.id),
    [client],
  );
  assert.equal((await two.workspace.store.place(TEAM)).after, 1);
});

test("a network's own page is not mistaken for our server", async () => {
  const { server, tablet } = await visitOn();
  server.faults.push('portal');
  await tablet.workspace.loop.now();
  assert.equal(tablet.workspace.state.value.error?.code, 'portal');
  assert.equal(tablet.workspace.state.value.waiting, 3);
});

test('fault 08: a session that has ended asks to sign in and keeps everything', async () => {
  const { server, tablet } = await visitOn();
  server.faults.push('signed-out');
  await tablet.workspace.loop.now();
  assert.equal(tablet.workspace.state.value.error?.code, 'sign-in');
  assert.equal(tablet.workspace.state.value.waiting, 3);
});

test('what the server sets aside is shown, kept, and holds up nothing', async () => {
  const { server, tablet, client, visit } = await visitOn();
  server.judge = (event) => (event.n === 3 ? 'out-of-range' : '');
  await answerOn(tablet, visit, 'pos-pelvis', '2');
  await tablet.workspace.loop.now();
  const { refused, waiting } = tablet.workspace.state.value;
  assert.equal(waiting, 0);
  assert.equal(refused.length, 1);
  assert.deepEqual(
    { ...refused[0], at: '' },
    {
      ref: `${tablet.tablet}:3`,
      kind: 'answer-given',
      subject: visit,
      item: 'pos-head',
      at: '',
      code: 'out-of-range',
      hint: 'It does not fit.',
      field: 'body.value',
    },
  );
  assert.equal(server.entries.length, 3, 'what came after it was stored');
  const card = tablet.workspace.projections.clients.value.find((one) => one.id === client);
  assert.equal(card?.visits[0]?.answered, 1, 'it does not count here either');
});

test('two tablets that answer apart both stand until somebody chooses', async () => {
  const server = createFakeServer(TEAM);
  const [one, two] = [await newTablet(server), await newTablet(server)];
  const client = await openClientOn(one);
  const visit = await startVisitOn(one, client);
  await one.workspace.loop.now();
  await two.workspace.loop.now();
  await answerOn(one, visit, 'pos-head', '3');
  await answerOn(two, visit, 'pos-head', '1');
  await one.workspace.loop.now();
  await two.workspace.loop.now();
  await one.workspace.loop.now();
  for (const tablet of [one, two]) {
    const card = tablet.workspace.projections.clients.value.find((each) => each.id === client);
    assert.equal(card?.visits[0]?.needsChoice, 1);
    assert.equal(card?.visits[0]?.sync, 'choice');
  }
  const drop = [`${two.tablet}:1`];
  await one.workspace.projections.write('answer-chosen', visit, { item: 'pos-head', keep: `${one.tablet}:3`, drop });
  await one.workspace.loop.now();
  await two.workspace.loop.now();
  assert.equal(two.workspace.state.value.needsChoice, 0);
});

test('a page with no network shows everything after a cold start', async () => {
  const { server, tablet, client, visit } = await visitOn();
  tablet.workspace.close();
  server.faults.push('lose-request');
  const again = await openTablet(server, tablet);
  const card = again.workspace.projections.clients.value.find((one) => one.id === client);
  assert.equal(card?.name, 'Invented Client');
  assert.equal(card?.visits[0]?.id, visit);
  assert.equal(again.workspace.state.value.waiting, 3);
});

test('a server that knows more of this tablet than the tablet itself moves the numbers on', async () => {
  const server = createFakeServer(TEAM);
  const tablet = await newTablet(server);
  server.acks.set(tablet.tablet, 7);
  const client = await openClientOn(tablet);
  await tablet.workspace.loop.now();
  const visit = await startVisitOn(tablet, client);
  await tablet.workspace.loop.now();
  assert.equal(server.lines.has(`${tablet.tablet}:8`), true);
  assert.ok(visit);
});

test('fault 32: a server that is full is named, and the tablet keeps everything and goes on reading until there is room', async () => {
  const { server, tablet, client, visit } = await visitOn();
  await tablet.workspace.loop.now();
  const colleague = await newTablet(server);
  await colleague.workspace.loop.now();
  await answerOn(colleague, visit, 'pos-trunk', '2');
  await colleague.workspace.loop.now();
  await answerOn(tablet, visit, 'pos-pelvis', '1');
  server.faults.push('full');
  await tablet.workspace.loop.now();
  assert.match(tablet.workspace.state.value.error?.message ?? '', /^The server is full/);
  assert.deepEqual([tablet.workspace.state.value.waiting, server.entries.length], [1, 4]);
  await tablet.workspace.projections.settled();
  const answered = () => tablet.workspace.projections.clients.value.find((one) => one.id === client)?.visits[0]?.answered;
  assert.equal(answered(), 3, 'what the colleague wrote is here');
  await tablet.workspace.loop.now();
  assert.deepEqual([tablet.workspace.state.value.waiting, server.entries.length], [0, 5]);
  assert.doesNotMatch(tablet.workspace.state.value.error?.message ?? '', /full/);
});

test('a server that has set too much aside is named with its reason, and takes the rest once somebody has dealt with it', async () => {
  const { server, tablet, client, visit } = await visitOn();
  await tablet.workspace.loop.now();
  const colleague = await newTablet(server);
  await colleague.workspace.loop.now();
  await answerOn(colleague, visit, 'pos-trunk', '2');
  await colleague.workspace.loop.now();
  await answerOn(tablet, visit, 'pos-pelvis', '1');
  await answerOn(tablet, visit, 'pos-head', '1');
  server.most = 1;
  server.faults.push(null, 'aside');
  await tablet.workspace.loop.now();
  assert.deepEqual([tablet.workspace.state.value.error?.code, tablet.workspace.state.value.waiting], ['quarantine-full', 1]);
  assert.match(tablet.workspace.state.value.error?.message ?? '', /^2000 entries from here are set aside/);
  await tablet.workspace.projections.settled();
  const answered = () => tablet.workspace.projections.clients.value.find((one) => one.id === client)?.visits[0]?.answered;
  assert.equal(answered(), 3, 'what the colleague wrote is here');
  await tablet.workspace.loop.now();
  assert.equal(tablet.workspace.state.value.waiting, 0);
});

test('fault 11: on a line too slow for all at once, what waits gets through in smaller pieces', async () => {
  const { server, tablet, visit } = await visitOn();
  for (const item of ['a', 'b', 'c', 'd', 'e']) await answerOn(tablet, visit, item, '2');
  server.faults.push('slow', 'slow'); // eight entries, four
  await tablet.workspace.loop.now();
  assert.equal(tablet.workspace.state.value.waiting, 0);
  assert.deepEqual(server.pushes, [2, 2, 2, 2]);
});

test('a line on which not even one entry arrives in time is left to a later try', async () => {
  const { server, tablet } = await visitOn();
  server.faults.push('slow', 'slow'); // three entries, one
  await tablet.workspace.loop.now();
  assert.deepEqual([tablet.workspace.state.value.waiting, tablet.workspace.state.value.online], [3, false]);
  await tablet.workspace.loop.now();
  assert.equal(tablet.workspace.state.value.waiting, 0);
});
