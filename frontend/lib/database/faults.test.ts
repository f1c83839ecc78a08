import assert from 'node:assert/strict';
import { test } from 'node:test';
import { createHttp } from '../api/http';
import { sha256, toBytes } from '../bytes';
import { cursorKey } from './rows';
import { openWorkspace } from '../session/workspace';
import { createFakeServer } from '../../test/fake-server';
import { answerOn, fakeWorld, newTablet, openClientOn, openTablet, shown, startVisitOn, TEAM, withChecklist } from '../../test/tablet';

const HOUR = 3_600_000;

test('fault 22: clocks that jump change no number and no order', async () => {
  const server = createFakeServer(TEAM);
  const first = await newTablet(server);
  const visit = await startVisitOn(first, await openClientOn(first));
  await first.workspace.loop.now();
  let [now, zone] = [Date.parse('2026-10-25T00:30:00.000Z'), 'Europe/Dublin'];
  await withChecklist(first);
  await first.workspace.close();
  const workspace = await openWorkspace({ ...fakeWorld(server), now: () => new Date(now), zone: () => zone }, first);
  await workspace.teamDownloads.setTeams([{ id: TEAM, name: 'North', role: 'clinician' }]);
  const jumps = [HOUR, -24 * HOUR, 10 * 365 * 24 * HOUR, -10 * 365 * 24 * HOUR, HOUR, -HOUR];
  for (const [at, jump] of jumps.entries()) {
    now += jump;
    zone = at % 2 === 0 ? 'Asia/Kathmandu' : 'America/St_Johns';
    const ref = await workspace.projections.write('answer-given', visit, { item: 'pos-head', state: 'answered', level: String(at % 4) });
    assert.equal(ref, `${first.tablet}:${at + 3}`);
    const view = server.lines.size;
    await workspace.loop.now();
    assert.equal(server.lines.size, view + 1, 'sent whatever the clock says');
    const raw = server.entries.at(-1)?.raw as { readonly at: string; readonly zone: string };
    assert.equal(raw.at, new Date(now).toISOString());
    assert.equal(raw.zone, zone);
  }
  const { visit: folded } = await shown({ workspace }, visit, (view) => view.visit.answers.length > 0);
  const heads = folded.answers[0]?.heads ?? [];
  assert.deepEqual(
    heads.map((one) => one.level),
    ['1'],
    'the last answer stands, not the one with the latest clock',
  );
  workspace.close();
});

test('fault 23: a tablet put back to an older copy goes on after the numbers that the server has', async () => {
  const server = createFakeServer(TEAM);
  const tablet = await newTablet(server);
  const visit = await startVisitOn(tablet, await openClientOn(tablet));
  await answerOn(tablet, visit, 'pos-head', '3');
  await tablet.workspace.loop.now();
  const older = await openTablet(server, { ...tablet, person: `${tablet.person}-older` });
  await older.workspace.loop.now();
  assert.notEqual(older.workspace.state.value.altered.whole, '', 'that it was put back is told');
  assert.equal(await answerOn(older, visit, 'pos-head', '1'), `${tablet.tablet}:4`);
  await older.workspace.loop.now();
  assert.equal(server.entries.length, 4);
  assert.equal(older.workspace.state.value.refused.length, 0);
  // What it has read of its own it sends again to a server that was restored from before.
  const before = new Map(server.lines);
  server.restore('log-2');
  await older.workspace.loop.now();
  assert.deepEqual(server.lines, before);
  assert.equal((await older.workspace.store.held(visit)).events.length, 3);
});

test('fault 48: what came of this tablet in a file is its own from when it is read, and no other number is taken for it', async () => {
  const server = createFakeServer(TEAM);
  const tablet = await newTablet(server);
  const visit = await startVisitOn(tablet, await openClientOn(tablet));
  await tablet.workspace.loop.now();
  /** What its author confirmed on the server, and no tablet sent. */
  const confirm = (n: number) => {
    const raw = {
      ...(server.entries[1]?.raw as object),
      n,
      kind: 'visit-noted',
      subject: visit,
      body: { fields: { note: `of a file, ${n}` } },
    };
    server.entries.push({ pos: server.entries.length + 1, received: '2026-03-02T10:00:00.000Z', raw });
    server.lines.set(`${tablet.tablet}:${n}`, JSON.stringify(raw));
    server.acks.set(tablet.tablet, n);
  };
  const rows = () => tablet.workspace.store.db.read(['events'], (tx) => tx.objectStore('events').getAll());
  confirm(3);
  await tablet.workspace.loop.now();
  assert.deepEqual(
    (await rows()).map((row) => [row.key, row.own]),
    [1, 2, 3].map((n) => [`${tablet.tablet}:${n}`, n]),
  );
  // With something waiting under the number, what the server has lies beside it.
  assert.equal(await answerOn(tablet, visit, 'pos-head', '1'), `${tablet.tablet}:4`);
  server.faults.push('lose-request');
  await tablet.workspace.loop.now();
  confirm(4);
  confirm(5);
  server.faults.push('full');
  await tablet.workspace.loop.now();
  assert.equal(await answerOn(tablet, visit, 'pos-head', '2'), `${tablet.tablet}:5`);
  await tablet.workspace.loop.now();
  confirm(6);
  await tablet.workspace.loop.now();
  assert.deepEqual(
    (await rows()).slice(3).map((row) => [row.key, row.own ?? 0, row.aside ?? 0]),
    [
      [`${tablet.tablet}:4`, 4, 1],
      [`${tablet.tablet}:4~log`, 0, 0],
      [`${tablet.tablet}:5`, 5, 1],
      [`${tablet.tablet}:5~log`, 0, 0],
      [`${tablet.tablet}:6`, 6, 0],
    ],
  );
  const before = new Map(server.lines);
  server.restore('log-2');
  await tablet.workspace.loop.now();
  // A row as earlier versions had it is not there twice.
  const { store } = tablet.workspace;
  const key = `${tablet.tablet}:6`;
  const row = await store.db.read(['events'], (tx) => tx.objectStore('events').get(key));
  assert.ok(row);
  const bytes = await store.openEvent(row);
  const old = { key: `${key}~log`, subject: row.subject, pos: row.pos, team: TEAM, box: await store.sealEvent(`${key}~log`, bytes) };
  await store.db.write(['events', 'meta'], async (tx) => {
    await tx.objectStore('events').delete(key);
    await tx.objectStore('events').put(old);
    await tx.objectStore('meta').put({ key: cursorKey(TEAM), number: 0 });
  });
  await tablet.workspace.loop.now();
  assert.deepEqual(
    (await rows()).slice(7).map((one) => one.key),
    [`${key}~log`],
  );
  for (const n of [1, 2, 3]) assert.equal(server.lines.get(`${tablet.tablet}:${n}`), before.get(`${tablet.tablet}:${n}`));
});

test('fault 23: what another device wrote under this name and number is shown beside the own entry', async () => {
  const server = createFakeServer(TEAM);
  const tablet = await newTablet(server);
  const client = await openClientOn(tablet);
  await tablet.workspace.loop.now();
  const twin = await openTablet(server, { ...tablet, person: `${tablet.person}-twin` });
  await twin.workspace.loop.now();
  const visit = await startVisitOn(tablet, client);
  await tablet.workspace.loop.now();
  const other = await startVisitOn(twin, client);
  await twin.workspace.loop.now();
  assert.deepEqual(
    twin.workspace.state.value.refused.map((one) => [one.ref, one.code]),
    [[`${tablet.tablet}:2`, 'forked']],
  );
  const rows = await twin.workspace.store.db.read(['events'], (tx) => tx.objectStore('events').getAll());
  assert.deepEqual(
    rows.filter((row) => row.aside === 1).map((row) => row.subject),
    [other],
    'the own entry is kept',
  );
  assert.deepEqual(
    (await twin.workspace.store.held(visit)).events.map((one) => one.pos),
    [2],
    "the server's entry counts",
  );
  assert.notEqual(twin.workspace.state.value.error?.code, 'damaged');
});

test('fault 10: an answer that was changed on the way is not believed', async () => {
  const body = '{"ack":7}';
  const sum = await sha256(toBytes(body));
  const http = (text: string) =>
    createHttp(() => Promise.resolve(new Response(text, { headers: { 'Content-Type': 'application/json', 'Doorsill-Sum': sum } })));
  const ask = { method: 'GET', path: '/api/v1/session' };
  assert.deepEqual((await http(body)(ask)).json, { ack: 7 });
  await assert.rejects(http('{"ack":9}')(ask), /cut off or changed on the way/);
});
