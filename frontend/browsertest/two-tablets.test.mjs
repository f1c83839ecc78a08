// @ts-check
// Two people answer one item of one visit apart, with no network between them.
// Both answers are kept, the more cautious one counts, and somebody chooses.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { openBrowser, useServer } from './setup.mjs';
import { follow, keptOffline, pack, pick, signIn, syncNow } from './actions.mjs';

const service = useServer();
const client = 'Thistle Mare';
const item = 'On and off';

test('two tablets answer one item apart', async () => {
  const [marit, ilse] = await Promise.all([1, 2].map(async () => openBrowser(await service.profile())));
  assert.ok(marit && ilse);
  for (const [tablet, name] of /** @type {const} */ ([
    [marit, 'marit'],
    [ilse, 'ilse'],
  ])) {
    await signIn(tablet.page, service.server.url, name);
    if (tablet === ilse) {
      // Who leads a team has nobody's record on the device before they say so.
      await ilse.page.getByText('Everything on this tablet has been sent.').waitFor();
      assert.equal(await ilse.page.getByRole('link', { name: client }).count(), 0);
      await follow(ilse.page, 'New client');
      await ilse.page.getByText('are not on this device').waitFor();
      assert.equal(await ilse.page.getByRole('button', { name: 'Save the client' }).count(), 0);
      await ilse.page.goBack();
      await ilse.page.getByText(/\(\d+ clients\)/).waitFor();
      await pack(ilse.page);
    }
    await tablet.page.getByRole('link', { name: client }).waitFor();
    await keptOffline(tablet.page);
    await follow(tablet.page, client);
    await follow(tablet.page, 'Go on with the open visit');
    await tablet.page.getByRole('heading', { level: 1, name: 'Visit map' }).waitFor();
  }

  // The network goes for both; each answers what they saw.
  await service.server.stop();
  await pick(marit.page, 'Switches and mounting', item, '4');
  await pick(ilse.page, 'Switches and mounting', item, '1');

  // It comes back; both send, then both fetch what the other sent.
  await service.again();
  for (const tablet of [marit, ilse, marit]) await syncNow(tablet.page);

  // Both see that a choice is needed, with both answers in words.
  const conflict = marit.page.getByRole('article').filter({ has: marit.page.getByRole('heading', { name: item }) });
  await conflict
    .getByText(/needs your choice/i)
    .first()
    .waitFor();
  await conflict.getByText(/Alone/).first().waitFor();
  await conflict
    .getByText(/With hands/)
    .first()
    .waitFor();
  const visit = new URL(marit.page.url()).pathname.split('/')[2] ?? '';
  const read = async () => await (await marit.page.request.get(`${service.server.url}/api/v1/visits/${visit}`)).json();
  const apart = await read();
  const heads = apart.visit.answers.find((/** @type {{ item: string }} */ a) => a.item === 'mnt-power').heads;
  assert.deepEqual(heads.map((/** @type {{ level: string }} */ h) => h.level).sort(), ['1', '4'], 'both answers are in the record');
  const judged = apart.scored.result.items.find((/** @type {{ id: string }} */ one) => one.id === 'mnt-power');
  assert.equal(judged.level, '1', 'until somebody chooses, the more cautious one counts');

  // One of them chooses; the other tablet learns it.
  await conflict
    .getByRole('button', { name: /^Keep this one/ })
    .first()
    .click();
  await conflict
    .getByText(/needs your choice/i)
    .first()
    .waitFor({ state: 'detached' });
  await syncNow(marit.page);
  const settled = await read();
  assert.equal(settled.visit.answers.find((/** @type {{ item: string }} */ a) => a.item === 'mnt-power').heads.length, 1);
  await syncNow(ilse.page);
  await ilse.page
    .getByRole('article')
    .filter({ has: ilse.page.getByRole('heading', { name: item }) })
    .getByText('Answered')
    .first()
    .waitFor();

  // The lead is done and takes the clients off the device; the caseload stays.
  await ilse.page.locator('.top-sync').click();
  await ilse.page.getByRole('button', { name: /^Take them off this device/ }).click();
  await ilse.page.getByRole('button', { name: 'Take them off', exact: true }).click();
  await ilse.page.getByRole('button', { name: /onto this device$/ }).waitFor();
  await ilse.page.getByText('No visit is on this tablet.').waitFor();
  await follow(ilse.page, 'Caseload');
  await follow(ilse.page, client);
  await follow(ilse.page, 'Visit or change on this tablet');
  await ilse.page.getByText('This client is not on this device.').waitFor();
  await pack(ilse.page);
  await ilse.page.getByRole('heading', { level: 1, name: client }).waitFor();
  assert.deepEqual([...marit.problems, ...ilse.problems], []);
});
