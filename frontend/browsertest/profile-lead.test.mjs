// @ts-check
// The same as in profile.test.mjs, for a lead and an administrator at a desk, and
// for a browser that is killed.
import { afterEach, test } from 'node:test';
import { killBrowser } from './fault.mjs';
import { plant } from './planted.mjs';
import { comesToLie, nothingInClear, secretWords, toNotes, typed, writtenDown } from './profile.mjs';
import { closeAll, named, openBrowser, useServer } from './setup.mjs';
import { follow, signIn } from './actions.mjs';

const service = useServer(async () => {
  url = named(service.server.url);
});
/** @type {string} */
let url;

afterEach(closeAll);

test('a killed browser’s profile holds no name and no note in clear', async () => {
  const profile = await service.profile();
  const { page, context } = await openBrowser(profile);
  await signIn(page, url, 'marit');
  await page.getByRole('link', { name: 'Heath Ellery' }).waitFor();
  const words = await secretWords(page);
  await toNotes(page);
  const fields = page.locator('main textarea');
  await fields.first().fill(typed.saved);
  await fields.nth(1).fill(typed.unsaved);
  const planted = await writtenDown(profile, page);
  await killBrowser(profile, context);
  await nothingInClear(profile, words, planted, 'after a kill');
  const again = await openBrowser(profile);
  await again.page.goto(url);
  await again.page.getByLabel('Password', { exact: true }).waitFor();
  await again.close();
  await nothingInClear(profile, words, [], 'after the next start');
});

test('a lead’s profile holds no name, no words that were searched for and no note in clear', async () => {
  const profile = await service.profile();
  const tablet = await openBrowser(profile);
  const { page } = tablet;
  const beside = await tablet.context.newPage();
  await beside.goto(url);
  const planted = [...(await plant(beside))];
  await signIn(page, url, 'ilse');
  const words = await secretWords(page);
  await follow(page, 'Caseload');
  await page.getByLabel('Name or number').fill(typed.notFound);
  await page.getByText('0 clients', { exact: true }).waitFor();
  await page.getByLabel('Name or number').fill(typed.search);
  await page.getByText('1 client', { exact: true }).waitFor();
  planted.push(...(await writtenDown(profile, page)));
  await follow(page, 'Hazel Orme');
  await page.getByRole('heading', { level: 1, name: 'Hazel Orme' }).waitFor();
  await page.locator('main a[href*="&visit="]').first().click();
  await page.getByRole('heading', { level: 1, name: 'Visit and result' }).waitFor();
  planted.push(...(await writtenDown(profile, page)));
  await comesToLie(profile, planted);
  await nothingInClear(profile, words, planted, 'while it is in use');

  // An administrator at the same desk, with somebody's name half typed.
  await page.getByRole('button', { name: 'Sign out' }).click();
  await signIn(page, url, 'perrin');
  await page.getByRole('button', { name: 'New account' }).click();
  await page.getByRole('dialog').getByLabel('Name', { exact: true }).fill(typed.person);
  planted.push(...(await writtenDown(profile, page)));
  await comesToLie(profile, planted);
  await tablet.close();
  await nothingInClear(profile, words, planted, 'after closing');
});
