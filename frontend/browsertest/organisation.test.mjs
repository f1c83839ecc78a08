// @ts-check
// In by the organisation's own sign-in, and on without a network.
import assert from 'node:assert/strict';
import { afterEach, test } from 'node:test';
import { closeAll, openBrowser, useServer } from './setup.mjs';
import { follow, keptOffline, tile } from './actions.mjs';
import { joinOrganisation, signInThere } from './organisation.mjs';

/** @typedef {import('playwright-core').Page} Page */

/** @type {Awaited<ReturnType<typeof joinOrganisation>>} */
let organisation;
const service = useServer(async () => {
  organisation = await joinOrganisation(service.server);
  service.server = organisation.server;
  service.ends.push(organisation.stop);
  profile = await service.profile();
});
/** @type {string} */
let profile;
const client = 'Heath Ellery';
const own = 'nine quiet lamps';
const note = 'Tires after ten minutes with the blue stick.';

afterEach(closeAll);

/** @param {Page} page */
const openTablet = (page) => page.getByRole('button', { name: 'Open this tablet' }).click();

/** @param {Page} page */
async function toNotes(page) {
  await follow(page, client);
  await follow(page, 'Go on with the open visit');
  await tile(page, 'Visit notes');
  return page.locator('textarea').first();
}

test('who has no account here is told so in plain words', async () => {
  const { page, close } = await openBrowser(await service.profile());
  await signInThere(page, organisation.url, 'stranger');
  await page.getByText('there is no account for you here').waitFor();
  await page.getByLabel('Password', { exact: true }).waitFor();
  await close();
});

test('sign in at the organisation, choose a tablet password, write, and open it all again without a network', async () => {
  const tablet = await openBrowser(profile);
  const { page } = tablet;
  await signInThere(page, organisation.url, 'marit');
  await page.getByText('Marit Ashgrove').waitFor();

  // A short one and a slip are said, and what was typed stays.
  await page.getByLabel('New tablet password').fill('short');
  await openTablet(page);
  await page.getByText('expected at least 15 characters, got 5').waitFor();
  await page.getByLabel('New tablet password').fill(own);
  await page.getByLabel('The same once more').fill('nine quiet lamp');
  await openTablet(page);
  await page.getByText('expected the same password as above').waitFor();
  // So is what is easy to guess, by the list that the server has, and what is made of names.
  for (const easy of ['once upon a time 1984', 'Ashgrove, Marit 26', 'Doorsill Doorsill 9']) {
    await page.getByLabel('New tablet password').fill(easy);
    await page.getByLabel('The same once more').fill(easy);
    await openTablet(page);
    await page.getByText('expected something that is harder to guess').waitFor();
    await page.getByLabel('New tablet password').fill('');
    await page.getByText('expected something that is harder to guess').waitFor({ state: 'detached' });
  }

  // The page goes away in the middle: it asks again, and nothing has happened.
  await page.reload();
  await page.getByLabel('New tablet password').fill(own);
  await page.getByLabel('The same once more').fill(own);
  await openTablet(page);
  await page.getByRole('button', { name: 'I have read this' }).click();
  await page.getByRole('link', { name: client }).waitFor();
  await keptOffline(page);
  const field = await toNotes(page);
  await field.fill(note);
  await page.getByRole('heading', { level: 1 }).click();
  await page.locator('.saved').filter({ hasText: 'Saved on this tablet' }).first().waitFor();
  assert.deepEqual(tablet.problems, []);
  await tablet.close();
  await service.server.stop();

  const again = await openBrowser(profile);
  await again.page.goto(organisation.url);
  await again.page.getByLabel('Name', { exact: true }).fill('marit');
  await again.page.getByLabel('Password', { exact: true }).fill('nine quiet lambs');
  await again.page.getByRole('button', { name: 'Sign in', exact: true }).click();
  await again.page.getByText('do not open this tablet').waitFor();
  assert.equal(
    await again.page.getByRole('button', { name: 'Sign in at your organisation' }).count(),
    0,
    'without a network there is no way there',
  );
  await again.page.getByLabel('Password', { exact: true }).fill(own);
  await again.page.getByRole('button', { name: 'Sign in', exact: true }).click();
  await again.page.getByRole('link', { name: client }).waitFor();
  assert.equal(await (await toNotes(again.page)).inputValue(), note);
  assert.deepEqual(again.problems, []);
  await again.close();
  await service.again();
});

test('who has rows here is asked for the tablet password, and can begin anew without it', async () => {
  const tablet = await openBrowser(profile);
  const { page } = tablet;
  await page.goto(organisation.url);
  const there = page.getByRole('button', { name: 'Sign in at your organisation' });
  const asked = page.getByLabel('Tablet password', { exact: true });
  await there.or(asked).waitFor();
  // The browser forgets the session when it is closed, or keeps it: both are fine.
  if (await there.isVisible()) await signInThere(page, organisation.url, 'marit');
  await asked.fill('nine quiet lambs');
  await openTablet(page);
  await page.getByText('not your password on this tablet').waitFor();
  await page.getByText('I do not know the one before').click();
  await page.getByRole('button', { name: 'Start anew on this tablet' }).click();
  await page.getByLabel('New tablet password').fill('nine other lamps');
  await page.getByLabel('The same once more').fill('nine other lamps');
  await openTablet(page);
  await page.getByRole('link', { name: client }).waitFor();
  await page.getByRole('button', { name: 'Sign out' }).click();
  await there.waitFor();
  assert.deepEqual(tablet.problems, []);
  await tablet.close();
});
