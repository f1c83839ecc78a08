// @ts-check
// The whole job in one go: from the sign-in with a network, through a visit
// without one and a restart of the browser, to the lead's screen.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { openBrowser, useServer } from './setup.mjs';
import {
  answerPart,
  backToMap,
  complete,
  controlAndPlace,
  drive,
  follow,
  itemsOfStandard,
  keptOffline,
  measure,
  readings,
  restedForce,
  setState,
  signIn,
  startVisit,
  tile,
  timings,
  travel,
  sign,
} from './actions.mjs';

const service = useServer();
const client = 'Sedge Conway';

test('a visit from the doorstep to the lead’s screen', async () => {
  // With a network: sign in, the team's clients arrive.
  const profile = await service.profile();
  let tablet = await openBrowser(profile);
  await signIn(tablet.page, service.server.url, 'marit');
  await tablet.page.getByRole('link', { name: client }).waitFor();
  await keptOffline(tablet.page);

  // The network goes, and so does the browser: a cold start at the home.
  await tablet.close();
  await service.server.stop();
  tablet = await openBrowser(profile);
  let { page } = tablet;
  await signIn(page, service.server.url, 'marit');
  const visit = await startVisit(page, client);

  // Nothing is known, so there is no level, and the list of what comes first.
  await page.getByRole('link', { name: 'Level', exact: true }).click();
  await page.locator('.level-word').first().getByText('No level yet').waitFor();
  await page
    .locator('.rail')
    .getByRole('link', { name: /^Missing: / })
    .click();
  await page.getByRole('heading', { name: /^Before anybody drives/ }).waitFor();
  await page.getByRole('link', { name: 'Stops and holds' }).waitFor();
  await page.goBack();
  await page.goBack();
  await page.getByRole('heading', { level: 1, name: 'Visit map' }).waitFor();

  // Control and place, then what the person can give.
  await controlAndPlace(page, [
    [/starts the chair/, '60'],
    [/driver’s switch/, '30'],
  ]);
  await tile(page, 'Force');
  await measure(page, restedForce);
  await setState(page, 'Tired');
  await measure(page, [
    ['forward', ['900', '910', '905']],
    ['reverse', ['850', '860', '855']],
    ['left', ['880', '870', '875']],
    ['right', ['840', '850', '845']],
  ]);
  await backToMap(page);
  await readings(page, 'Travel', travel);
  await readings(page, 'Force not meant', [['', ['6']]]);
  await readings(page, 'Switch force', [['', ['120', '118', '122']]]);
  await timings(page, 'Letting go', 5);
  await timings(page, 'Holding', 1);
  await tile(page, 'Driving trial');
  await drive(page, 'Indoors', 'Rested', '110');
  await drive(page, 'Indoors', 'Tired', '95');
  await drive(page, 'Rough ground', 'Rested', '24');

  // The browser dies in the middle; nothing is lost. Then the ten parts.
  await tablet.close();
  tablet = await openBrowser(profile);
  page = tablet.page;
  await signIn(page, `${service.server.url}/visits/${visit}`, 'marit');
  await page.getByRole('heading', { level: 1, name: 'Visit map' }).waitFor();
  const names = page.locator('.rail-part:visible .rail-name > span');
  await names.first().waitFor();
  const parts = await names.allInnerTexts();
  assert.equal(parts.length, 10);
  let items = 0;
  for (const part of parts) {
    await tile(page, part);
    await page.getByRole('heading', { level: 1, name: part }).waitFor();
    items += await answerPart(page);
    await backToMap(page);
  }
  assert.equal(items, itemsOfStandard, 'every item was on a screen');
  await complete(page, parts.length);

  // The level on the spot, provisional; then the signature, with no network.
  await page.getByRole('link', { name: 'Level', exact: true }).click();
  await page
    .getByText(/provisional/i)
    .first()
    .waitFor();
  const level = (await page.locator('.level-word').first().innerText()).trim().split('\n')[0] ?? '';
  assert.match(level, /^(Pause|Practise|Accompanied|Home ground|Wider ground)$/);
  await page.goBack();
  await page.getByRole('link', { name: 'Sign', exact: true }).click();
  await sign(page);
  await page.getByText('On this tablet only').first().waitFor();

  // Back online: it sends by itself, or by the button.
  await service.again();
  await page.locator('.top-sync').click();
  await page.getByRole('button', { name: /^Send/ }).first().click();
  await page.getByRole('row').filter({ hasText: client }).getByText('Sent', { exact: true }).waitFor();
  await page.goBack();
  await page.getByRole('link', { name: 'Visit map' }).last().click();
  await page.getByRole('link', { name: 'Level', exact: true }).click();
  await page
    .getByText(/confirmed/i)
    .first()
    .waitFor();
  const answer = await page.request.get(`${service.server.url}/api/v1/visits/${visit}`);
  assert.equal(answer.status(), 200);
  const { visit: kept, scored } = await answer.json();
  assert.equal(scored.sha256, kept.signed.result, 'what the server worked out is what the tablet showed when it was signed, byte for byte');
  assert.deepEqual(tablet.problems, []);
  await tablet.close();

  // The lead sees it.
  const lead = await openBrowser(await service.profile());
  await signIn(lead.page, service.server.url, 'ilse');
  await follow(lead.page, 'Caseload');
  await lead.page.getByLabel('Name or number').fill('Sedge');
  const row = lead.page.getByRole('link', { name: client }).first();
  await row.waitFor();
  await lead.page.getByRole('row').filter({ hasText: client }).getByText(level, { exact: true }).waitFor();
  assert.deepEqual(lead.problems, []);
  await lead.close();
});
