import assert from 'node:assert/strict';
import { test } from 'node:test';
import { StoreError } from '../errors';
import type { Event } from '../model.gen';
import { createFakeServer } from '../../test/fake-server';
import { answerOn, newTablet, openClientOn, openTablet, startVisitOn, TEAM, type FakeTablet } from '../../test/tablet';

/** A server with one visit of a colleague's, all sent. */
async function withVisit() {
  const server = createFakeServer(TEAM);
  const colleague = await newTablet(server);
  const client = await openClientOn(colleague, 'Invented Client');
  const visit = await startVisitOn(colleague, client);
  await answerOn(colleague, visit, 'pos-head', '3');
  await colleague.workspace.loop.now();
  return { server, client, visit };
}

const rowsOf = (one: FakeTablet) => one.workspace.store.db.read(['events'], (tx) => tx.objectStore('events').getAllKeys());
const downloadOf = (one: FakeTablet) => one.workspace.teamDownloads.downloads.value.get(TEAM);
const namesOn = (one: FakeTablet) => one.workspace.projections.clients.value.map((card) => card.name);
const take = async (one: FakeTablet) => {
  await one.workspace.teamDownloads.choose(TEAM, 'on');
  await one.workspace.loop.now();
};
const refused = (error: unknown) => error instanceof StoreError && error.code === 'refused' && /on this device only/.test(error.message);

test('whoever visits has the team’s clients on the device from the first sign-in', async () => {
  const { server } = await withVisit();
  for (const role of ['clinician', 'assistant'] as const) {
    const tablet = await newTablet(server, role);
    assert.equal(downloadOf(tablet)?.choice, 'on');
    await tablet.workspace.loop.now();
    assert.deepEqual(namesOn(tablet), ['Invented Client']);
  }
});

test('nothing of a team comes onto a lead’s device before they choose so, and the choice is kept', async () => {
  const { server } = await withVisit();
  const lead = await newTablet(server, 'lead');
  await lead.workspace.loop.now();
  assert.deepEqual([downloadOf(lead)?.choice, namesOn(lead), await rowsOf(lead)], ['off', [], []]);
  assert.equal(lead.workspace.state.value.online, true);
  await take(lead);
  assert.deepEqual(namesOn(lead), ['Invented Client']);
  assert.deepEqual(downloadOf(lead), { choice: 'on', complete: true, entries: 3 });
  lead.workspace.close();
  const again = await openTablet(server, lead, 'lead');
  assert.deepEqual(downloadOf(again), { choice: 'on', complete: true, entries: 3 });
});

test('with nothing to take in, a network that is gone is still noticed', async () => {
  const server = createFakeServer(TEAM);
  const lead = await newTablet(server, 'lead');
  assert.equal(lead.workspace.state.value.asked, false, 'before the first exchange nobody knows');
  await lead.workspace.loop.now();
  assert.equal(lead.workspace.state.value.online, true);
  server.faults.push('lose-request');
  await lead.workspace.loop.now();
  assert.deepEqual([lead.workspace.state.value.asked, lead.workspace.state.value.online], [true, false]);
});

test('what a colleague wrote leaves the device, what was written here stays for a restored server', async () => {
  const { server, client, visit } = await withVisit();
  const lead = await newTablet(server, 'lead');
  await take(lead);
  await answerOn(lead, visit, 'pos-pelvis', '2');
  await lead.workspace.loop.now();
  await lead.workspace.removeDownload(TEAM);
  assert.deepEqual(namesOn(lead), []);
  assert.equal(lead.workspace.projections.openClient(client).value, null);
  assert.deepEqual(await rowsOf(lead), [`${lead.tablet}:1`]);
  await lead.workspace.loop.now();
  assert.deepEqual(await rowsOf(lead), [`${lead.tablet}:1`], 'it does not come back by itself');
  lead.workspace.close();
  const again = await openTablet(server, lead, 'lead');
  assert.deepEqual([downloadOf(again)?.choice, namesOn(again)], ['off', []]);
  server.restore('log-2');
  await again.workspace.loop.now();
  assert.deepEqual([...server.lines.keys()], [`${lead.tablet}:1`]);
  assert.deepEqual(namesOn(again), []);
});

test('taken off and onto the device again, everything is here as before', async () => {
  const { server, client, visit } = await withVisit();
  const lead = await newTablet(server, 'lead');
  await take(lead);
  await answerOn(lead, visit, 'pos-pelvis', '2');
  await lead.workspace.loop.now();
  await lead.workspace.removeDownload(TEAM);
  await take(lead);
  const card = lead.workspace.projections.clients.value.find((one) => one.id === client);
  assert.equal(card?.visits[0]?.answered, 2);
  assert.equal(downloadOf(lead)?.entries, 4);
});

test('nothing is taken off while something of the team is on this device only', async () => {
  const { server, visit } = await withVisit();
  const tablet = await newTablet(server);
  await tablet.workspace.loop.now();
  await answerOn(tablet, visit, 'pos-pelvis', '2');
  await assert.rejects(tablet.workspace.removeDownload(TEAM), refused);
  assert.deepEqual([downloadOf(tablet)?.choice, namesOn(tablet)], ['on', ['Invented Client']]);
  await tablet.workspace.loop.now();
  tablet.workspace.drafts.keep(visit, { metres: '12' });
  await tablet.workspace.drafts.close();
  await assert.rejects(tablet.workspace.removeDownload(TEAM), refused, 'a run in the making');
  const again = await openTablet(server, tablet);
  again.workspace.drafts.drop(visit);
  const screen = `typed:/visits/${visit}/notes`;
  again.workspace.drafts.keep(screen, [{ label: 'Note', nth: 0, text: 'half a sen' }]);
  again.workspace.drafts.keep('typed:/visits/another/notes', [{ label: 'Note', nth: 0, text: 'of another team' }]);
  await again.workspace.drafts.close();
  await assert.rejects(again.workspace.removeDownload(TEAM), refused, 'text that was typed and not saved');
  const last = await openTablet(server, tablet);
  last.workspace.drafts.drop(screen);
  await last.workspace.drafts.close();
  await last.workspace.removeDownload(TEAM);
  assert.deepEqual(namesOn(last), []);
});

test('a first download that is cut off goes on from where it was', async () => {
  const { server } = await withVisit();
  const last = server.entries.at(-1)?.raw as Event;
  for (let n = 4; n <= 1103; n++) {
    server.entries.push({ pos: n, received: last.at, raw: { ...last, n, body: { item: `item-${n}`, state: 'answered', level: '3' } } });
  }
  const lead = await newTablet(server, 'lead');
  await lead.workspace.teamDownloads.choose(TEAM, 'on');
  server.faults.push(null, null, 'lose-request'); // checklists, the first page, the second
  await lead.workspace.loop.now();
  assert.deepEqual(downloadOf(lead), { choice: 'on', complete: false, entries: 1000 });
  await lead.workspace.teamDownloads.choose(TEAM, 'paused');
  lead.workspace.close();
  const again = await openTablet(server, lead, 'lead');
  await again.workspace.loop.now();
  assert.deepEqual(downloadOf(again), { choice: 'paused', complete: false, entries: 1000 }, 'stopped stays stopped');
  await take(again);
  assert.deepEqual(downloadOf(again), { choice: 'on', complete: true, entries: 1103 });
});

test('a page that arrives after the team was taken off is not taken in', async () => {
  const { server } = await withVisit();
  const lead = await newTablet(server, 'lead');
  await lead.workspace.teamDownloads.choose(TEAM, 'on');
  const running = lead.workspace.loop.now();
  await lead.workspace.removeDownload(TEAM);
  await running;
  assert.deepEqual([await rowsOf(lead), namesOn(lead), downloadOf(lead)?.entries], [[], [], 0]);
});

test('the choice does not lie open on the disk', async () => {
  const server = createFakeServer(TEAM);
  const tablet = await newTablet(server);
  const row = await tablet.workspace.store.db.read(['meta'], (tx) => tx.objectStore('meta').get(`packed:${TEAM}`));
  assert.deepEqual(Object.keys(row ?? {}).sort(), ['box', 'key']);
});
