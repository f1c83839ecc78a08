// @ts-check
// The whole job in one go: from the sign-in with a network, through a visit
// without one and a restart of the browser, to the lead's screen.
import assert from 'node:assert/strict';
import { createHash } from 'node:crypto';
import { after, before, test } from 'node:test';
import { closeAll, openBrowser, remove, scratch, startServer } from './house.mjs';
import { answerPart, backToMap, complete, drive, follow, keptOffline, measure, setState, signIn, tile, touchTimer } from './hand.mjs';

/** @type {Awaited<ReturnType<typeof startServer>>} */
let server;
/** @type {string} */
let profile;
/** @type {string} */
let desk;

before(async () => {
  server = await startServer();
  [profile, desk] = [await scratch('tablet'), await scratch('desk')];
});
after(async () => {
  await closeAll();
  await server.stop();
  await Promise.all([remove(server.data), remove(profile), remove(desk)]);
});

const client = 'Sedge Conway';

test('a visit from the doorstep to the lead’s screen', async () => {
  // With a network: sign in, the team's clients arrive.
  let tablet = await openBrowser(profile);
  await signIn(tablet.page, server.url, 'marit');
  await tablet.page.getByRole('link', { name: client }).waitFor();
  await keptOffline(tablet.page);

  // The network goes, and so does the browser: a cold start at the home.
  await tablet.close();
  await server.stop();
  tablet = await openBrowser(profile);
  let { page } = tablet;
  await signIn(page, server.url, 'marit');
  await follow(page, client);
  await follow(page, 'Start a visit');
  await page.getByText('gf', { exact: true }).click();
  await page.getByRole('button', { name: 'Start the visit' }).click();
  await page.getByRole('heading', { level: 1, name: 'Visit map' }).waitFor();
  const map = new URL(page.url()).pathname;
  const visit = map.split('/').at(-1) ?? '';

  // Control and place, then what the person can give.
  await tile(page, 'Control and place');
  await page.getByText(/^Standard/).first().click();
  await page.getByText('Full list of sites').click();
  await page.getByRole('group', { name: 'All sites' }).getByText('right hand', { exact: true }).click();
  await page.getByLabel(/starts the chair/).fill('60');
  await page.getByLabel(/driver’s switch/).fill('30');
  await page.getByRole('button', { name: 'Save control and place' }).click();
  await page.getByText('Saved on this tablet: control and place').waitFor();
  await backToMap(page);
  await tile(page, 'Force');
  await measure(page, [['forward', ['980', '1000', '1020']], ['reverse', ['900', '910', '905']], ['left', ['950', '940', '960']], ['right', ['890', '900', '880']]]);
  await setState(page, 'Tired');
  await measure(page, [['forward', ['900', '910', '905']], ['reverse', ['850', '860', '855']], ['left', ['880', '870', '875']], ['right', ['840', '850', '845']]]);
  await backToMap(page);
  await tile(page, 'Travel');
  await measure(page, [['forward', ['40']], ['reverse', ['38']], ['left', ['39']], ['right', ['37']]]);
  await backToMap(page);
  await tile(page, 'Unintended force');
  await measure(page, [['', ['6']]]);
  await backToMap(page);
  await tile(page, 'Switch force');
  await measure(page, [['', ['120', '118', '122']]]);
  await backToMap(page);
  await tile(page, 'Letting go');
  await touchTimer(page, 5);
  await backToMap(page);
  await tile(page, 'Holding');
  await touchTimer(page, 1);
  await backToMap(page);
  await tile(page, 'Driving trial');
  await drive(page, 'Indoors', 'Rested', '110');
  await drive(page, 'Indoors', 'Tired', '95');
  await drive(page, 'Rough ground', 'Rested', '24');

  // The browser dies in the middle; nothing is lost. Then the ten parts.
  await tablet.close();
  tablet = await openBrowser(profile);
  page = tablet.page;
  await signIn(page, server.url + map, 'marit');
  await page.getByRole('heading', { level: 1, name: 'Visit map' }).waitFor();
  const tiles = page.locator('.tiles').first();
  const parts = await tiles.locator('.tile-title').allInnerTexts();
  assert.equal(parts.length, 10);
  let items = 0;
  for (const part of parts) {
    await tiles.getByText(part, { exact: true }).click();
    await page.getByRole('heading', { level: 1, name: part }).waitFor();
    items += await answerPart(page);
    await backToMap(page);
  }
  assert.equal(items, 90, 'ninety items were on the screens');
  await complete(page, parts.length);

  // The level on the spot, provisional; then the signature, with no network.
  await page.getByRole('link', { name: 'Level', exact: true }).click();
  await page.getByText(/provisional/i).first().waitFor();
  const level = (await page.locator('.level-word').first().innerText()).trim().split('\n')[0] ?? '';
  assert.match(level, /^(Pause|Practise|Accompanied|Home ground|Wider ground)$/);
  await page.goBack();
  await page.getByRole('link', { name: 'Sign', exact: true }).click();
  await page.getByRole('button', { name: 'Sign this visit' }).click();
  await page.getByRole('heading', { name: 'Amendments' }).waitFor();
  await page.getByText('On this tablet only').first().waitFor();

  // Back online: it sends by itself, or by the button.
  server = await server.again();
  await page.locator('.top-sync').click();
  await page.getByRole('button', { name: /^Send/ }).first().click();
  await page.getByRole('row').filter({ hasText: client }).getByText('Sent', { exact: true }).waitFor();
  await page.goBack();
  await page.getByRole('link', { name: 'Visit map' }).last().click();
  await page.getByRole('link', { name: 'Level', exact: true }).click();
  await page.getByText(/confirmed/i).first().waitFor();
  const answer = await page.request.get(`${server.url}/api/v1/visits/${visit}`);
  assert.equal(answer.status(), 200);
  const { visit: kept, result } = await answer.json();
  assert.equal(createHash('sha256').update(result.text).digest('hex'), kept.signed.result,
    'what the server worked out is what the tablet showed when it was signed, byte for byte');
  assert.deepEqual(tablet.problems, []);
  await tablet.close();

  // The lead sees it.
  const lead = await openBrowser(desk);
  await signIn(lead.page, server.url, 'ilse');
  await follow(lead.page, 'Caseload');
  await lead.page.getByLabel('Name or number').fill('Sedge');
  const row = lead.page.getByRole('link', { name: client }).first();
  await row.waitFor();
  await lead.page.getByRole('row').filter({ hasText: client }).getByText(level, { exact: true }).waitFor();
  assert.deepEqual(lead.problems, []);
  await lead.close();
});
