import assert from 'node:assert/strict';
import { test } from 'node:test';
import { createFakeServer } from '../../test/fake-server';
import { answerOn, fakeWorld, newTablet, openClientOn, openTablet, shown, startVisitOn, TEAM, withChecklist } from '../../test/tablet';
import { openWorkspace } from '../session/workspace';

async function scored(server = createFakeServer(TEAM)) {
  const tablet = await newTablet(server);
  await withChecklist(tablet);
  const client = await openClientOn(tablet);
  const visit = await startVisitOn(tablet, client);
  await answerOn(tablet, visit, 'pos-head', '3');
  const view = await shown(tablet, visit, (one) => one.result !== null);
  assert.ok(view.result);
  const { result: sha256 } = await tablet.workspace.projections.resultToSign(visit, view.result);
  return { server, tablet, client, visit, view, own: { sha256, result: view.result } };
}

test('a result is provisional until the server has given its own for the same visit', async () => {
  const { server, tablet, visit, view, own } = await scored();
  assert.equal(view.provisional, true);
  assert.equal(view.result?.level, 'none');
  server.results.set(visit, { visit: view.visit, scored: own });
  await tablet.workspace.loop.now();
  const confirmed = await shown(tablet, visit, (one) => !one.provisional);
  assert.equal(confirmed.differs, false);
  assert.equal(confirmed.sync, 'sent');
  await tablet.workspace.projections.settled();
  assert.equal(tablet.workspace.projections.clients.value[0]?.visits[0]?.provisional, false);
  await answerOn(tablet, visit, 'pos-pelvis', '2');
  const changed = await shown(tablet, visit, (one) => one.visit.answers.length === 2 && one.provisional);
  assert.equal(changed.sync, 'here');
});

test("fault 39: the server's result is shown, and said to differ, when it is another", async () => {
  const { server, tablet, visit, view, own } = await scored();
  const other = { ...own.result, level: 'accompanied' };
  server.results.set(visit, { visit: view.visit, scored: { sha256: 'ef'.repeat(32), result: other } });
  await tablet.workspace.loop.now();
  const confirmed = await shown(tablet, visit, (one) => !one.provisional);
  assert.equal(confirmed.differs, true);
  assert.equal(confirmed.result?.level, 'accompanied');
});

test('a result for an older state of the visit confirms nothing', async () => {
  const { server, tablet, visit, view, own } = await scored();
  await answerOn(tablet, visit, 'pos-pelvis', '2');
  server.results.set(visit, { visit: view.visit, scored: own });
  await tablet.workspace.loop.now();
  assert.equal(tablet.workspace.projections.openVisit(visit).value?.provisional, true);
});

test('a confirmed result is there after a cold start with no network', async () => {
  const { server, tablet, visit, view, own } = await scored();
  server.results.set(visit, { visit: view.visit, scored: own });
  await tablet.workspace.loop.now();
  await shown(tablet, visit, (one) => !one.provisional);
  tablet.workspace.close();
  const again = await openTablet(server, tablet);
  assert.equal(again.workspace.projections.clients.value[0]?.visits[0]?.level, 'none');
  const view2 = await shown(again, visit, (one) => one.result !== null);
  assert.equal(view2.provisional, false);
});

test('results of more clients than one exchange asks about come with the next', async () => {
  const server = createFakeServer(TEAM);
  const tablet = await newTablet(server);
  await withChecklist(tablet);
  const clients: string[] = [];
  for (let count = 0; count < 51; count++) {
    const client = await openClientOn(tablet);
    await startVisitOn(tablet, client);
    clients.push(client);
  }
  await tablet.workspace.loop.now();
  await tablet.workspace.loop.now();
  const asked = server.requests.filter((one) => one.includes('/api/v1/clients/'));
  assert.equal(asked.length, 51);
  assert.ok(clients.every((client) => asked.some((one) => one.includes(client))));
});

test('a result that was asked for in vain, because the network went, is asked for again', async () => {
  const server = createFakeServer(TEAM);
  const net = { down: false };
  const through: typeof fetch = (input, init) =>
    net.down && String(input).includes('/clients/') ? Promise.reject(new TypeError('network down')) : server.fetch(input, init);
  const { tablet, visit, view, own } = await scored({ ...server, fetch: through });
  server.results.set(visit, { visit: view.visit, scored: own });
  net.down = true;
  await tablet.workspace.loop.now();
  assert.equal(tablet.workspace.state.value.online, false);
  net.down = false;
  await tablet.workspace.loop.now();
  assert.equal((await shown(tablet, visit, (one) => !one.provisional)).differs, false);
});

test('a program that ended after it had folded a visit is given it again, to sign and to compare', async () => {
  const { tablet, visit, view, own } = await scored();
  const { engine } = tablet.world;
  const end = async () => {
    engine.endAt('thresholds');
    await assert.rejects(engine.ask('thresholds', {}));
  };
  await end();
  assert.equal((await tablet.workspace.projections.resultToSign(visit, own.result)).result, own.sha256);
  await end();
  assert.equal(await tablet.workspace.projections.confirm(visit, { visit: view.visit, scored: own }), true);
  assert.equal((await shown(tablet, visit, (one) => !one.provisional)).differs, false);
});

test('results that could not be compared, because the program ended again and again, are asked for again', async () => {
  const server = createFakeServer(TEAM);
  const { tablet, client, visit, view, own } = await scored(server);
  for (let more = 0; more < 4; more++) await startVisitOn(tablet, await openClientOn(tablet));
  await tablet.workspace.loop.now();
  await tablet.workspace.close();

  const timers: (() => void)[] = [];
  const world = { ...fakeWorld(server), setTimer: (run: () => void) => timers.push(run) };
  const { projections, loop, teamDownloads } = await openWorkspace(world, tablet);
  await teamDownloads.setTeams([{ id: TEAM, name: 'North', role: 'clinician' }]);
  await projections.settled();
  for (const one of projections.clients.value) {
    const [card] = one.visits;
    if (card === undefined) continue;
    server.results.set(card.id, { visit: { ...view.visit, id: card.id, client: one.id }, scored: own });
  }
  // After so many others the visit waits for the next time.
  const works = world.engine.endAlways();
  for (const [id, one] of server.results) {
    if (id !== visit) await projections.confirm(id, one);
  }
  await loop.now();
  works();
  for (const run of timers.splice(0)) run();
  await projections.settled();
  await loop.now();
  await projections.settled();
  const card = projections.clients.value.find((one) => one.id === client)?.visits[0];
  assert.equal(card?.provisional, false);
});
