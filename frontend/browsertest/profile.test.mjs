// @ts-check
// No name and no note in clear anywhere in the browser's profile: not while it
// is in use, after a lock, after closing and after a withdrawal. It waits until
// the browser has written what it keeps of a page, and looks with the same search
// for words that were left in clear on purpose. Lead and kill: profile-lead.
import { afterEach, test } from 'node:test';
import { plant } from './planted.mjs';
import { comesToLie, nothingInClear, secretWords, toNotes, typed, writtenDown } from './profile.mjs';
import { withdraw } from './screen-list-trouble.mjs';
import { closeAll, named, openBrowser, useServer } from './setup.mjs';
import { follow, lockTablet, signIn, thisTablet } from './actions.mjs';

const service = useServer(async () => {
  url = named(service.server.url);
  profile = await service.profile();
});
/** @type {string} */
let url;
/** @type {string} */
let profile;

afterEach(closeAll);

test('a clinician’s profile holds no name and no note in clear', async () => {
  const tablet = await openBrowser(profile);
  const beside = await tablet.context.newPage();
  await beside.goto(url);
  const planted = [...(await plant(beside))];
  const { page } = tablet;
  await signIn(page, url, 'marit');
  await page.getByRole('link', { name: 'Heath Ellery' }).waitFor();
  const words = await secretWords(page);

  // What is typed and not saved, what finds nothing, and screens that carry names.
  await page.getByRole('searchbox').fill(typed.notFound);
  await follow(page, 'New client');
  await page.getByLabel('Name', { exact: true }).fill(typed.client);
  await page.getByLabel('Service number').fill(typed.reference);
  await page.getByLabel('Reason for referral').fill(typed.reason);
  planted.push(...(await writtenDown(profile, page)));
  await toNotes(page);
  const fields = page.locator('main textarea');
  await fields.first().fill(typed.saved);
  await fields.nth(1).fill(typed.unsaved);
  await page.locator('.saved').filter({ hasText: 'Saved on this tablet' }).first().waitFor();
  planted.push(...(await writtenDown(profile, page)));
  await comesToLie(profile, planted);
  await nothingInClear(profile, words, planted, 'while it is in use');

  await lockTablet(page);
  await page.getByRole('heading', { level: 1, name: 'Sign in' }).waitFor();
  planted.push(...(await writtenDown(profile, page)));
  await nothingInClear(profile, words, planted, 'after a lock');
  await tablet.close();
  await nothingInClear(profile, words, planted, 'after closing');
});

test('a withdrawn tablet’s profile holds no name and no note in clear', async () => {
  const tablet = await openBrowser(profile);
  const { page } = tablet;
  await signIn(page, url, 'marit');
  const words = await secretWords(page);
  await toNotes(page);
  await page.locator('main textarea').nth(1).fill(typed.unsaved);
  const planted = await writtenDown(profile, page);
  const { tablet: id } = await (await page.request.get(`${url}/api/v1/session`)).json();
  await thisTablet(page);
  // Else an exchange under way could be told first, and the button be gone.
  await page.getByRole('button', { name: 'Send and fetch now' }).waitFor({ timeout: 60_000 });
  await withdraw(url, id);
  await page.getByRole('button', { name: 'Send and fetch now' }).click();
  await page.getByText('You can hand it back.').waitFor();
  planted.push(...(await writtenDown(profile, page)));
  await nothingInClear(profile, words, planted, 'once it is cleared');
  await tablet.close();
  await nothingInClear(profile, words, planted, 'after closing');
});
