// @ts-check
// No name and no note in clear anywhere in the browser's profile: not after a
// lock, after closing, after a kill and after a withdrawal, as clinician and as
// lead. It waits until the browser has written what it keeps of a page, and
// looks for words that were left in clear on purpose with the same search.
import assert from 'node:assert/strict';
import { afterEach, test } from 'node:test';
import { killBrowser } from './fault.mjs';
import { plant, typeOpenly } from './planted.mjs';
import { readProfile } from './profile-text.mjs';
import { closeAll, named, openBrowser, useServer } from './setup.mjs';
import { withdraw } from './screen-list-trouble.mjs';
import { follow, signIn, thisTablet, tile } from './actions.mjs';

/** @typedef {import('playwright-core').Page} Page */

const service = useServer(async () => {
  url = named(service.server.url);
  clinician = await service.profile();
});
/** @type {string} */
let url;
/** The folder of the clinician's browser. @type {string} */
let clinician;

afterEach(closeAll);

/** What is typed in these stories, besides names of the invented service. */
const typed = {
  saved: 'Quillon Marrowby is wary of kerbs',
  unsaved: 'Ottoline says half a sente',
  client: 'Zephyrine Quarrell',
  reference: 'QX-7741-ZQ',
  search: 'Hazel Or',
  notFound: 'Wilhelmina Thrupp',
  reason: 'Evadne asked for it',
  person: 'Balthasar Nettleship',
};

/** Every name that the server knows, and what is typed here. @param {Page} page */
async function secretWords(page) {
  const get = async (/** @type {string} */ path) => (await page.request.get(`${url}/api/v1/${path}`)).json();
  const { people } = await get('people');
  const { teams } = await get('session');
  const pages = await Promise.all(teams.map((/** @type {{ id: string }} */ team) => get(`teams/${team.id}/caseload?status=any&limit=500`)));
  const rows = pages.flatMap((/** @type {{ rows: { name: string }[] }} */ one) => one.rows);
  const names = [...people, ...rows].map((/** @type {{ name: string }} */ one) => one.name);
  assert.ok(names.length > 20 && names.every(Boolean), 'there are names to look for');
  return [...new Set([...names, ...Object.values(typed), ...Object.values(typed).flatMap((text) => text.split(' ').slice(0, 2))])].filter(
    (word) => word.length > 5,
  );
}

/** Waits until every word lies in the profile. @param {string} profile @param {readonly string[]} words @param {string} [within] */
async function comesToLie(profile, words, within) {
  const end = Date.now() + 60_000;
  let missing = words;
  while (missing.length > 0) {
    if (Date.now() > end) assert.fail(`planted in clear and not found: ${missing.join(', ')}`);
    const text = await readProfile(profile, within);
    missing = words.filter((word) => text.holding(word).length === 0);
  }
}

/**
 * Asserts that none of the words lies in the profile, while what was planted does.
 * @param {string} profile @param {readonly string[]} words @param {readonly string[]} planted @param {string} when
 */
async function nothingInClear(profile, words, planted, when) {
  const text = await readProfile(profile);
  const missed = planted.filter((word) => text.holding(word).length === 0);
  assert.deepEqual(missed, [], `${when}: the search finds what lies in clear`);
  const found = words.flatMap((word) => text.holding(word).map((file) => `${word}: ${file}`));
  assert.deepEqual(found, [], `${when}: nothing lies in clear`);
}

/** Types into fields that nobody protects, and waits until the browser has written what it keeps of the page. @param {string} profile @param {Page} page */
async function writtenDown(profile, page) {
  const words = await typeOpenly(page);
  await comesToLie(profile, words, 'Default/Sessions');
  return words;
}

/** Opens the notes of the visit under way. @param {Page} page */
async function toNotes(page) {
  await follow(page, 'Today');
  await follow(page, 'Heath Ellery');
  await follow(page, 'Go on with the open visit');
  await tile(page, 'Visit notes');
}

/** @param {Page} page */
const lock = (page) => page.getByRole('button', { name: 'Lock', exact: true }).click();

test('a clinician’s profile holds no name and no note in clear', async () => {
  let tablet = await openBrowser(clinician);
  const beside = await tablet.context.newPage();
  await beside.goto(url);
  const planted = [...(await plant(beside)), ...(await typeOpenly(beside))];
  let { page } = tablet;
  await signIn(page, url, 'marit');
  await page.getByRole('link', { name: 'Heath Ellery' }).waitFor();
  const words = await secretWords(page);

  // What is typed and not saved, what finds nothing, and screens that carry names.
  await page.getByRole('searchbox').fill(typed.notFound);
  await follow(page, 'New client');
  await page.getByLabel('Name', { exact: true }).fill(typed.client);
  await page.getByLabel('Service number').fill(typed.reference);
  planted.push(...(await writtenDown(clinician, page)));
  await toNotes(page);
  const fields = page.locator('main textarea');
  await fields.first().fill(typed.saved);
  await fields.nth(1).fill(typed.unsaved);
  await page.locator('.saved').filter({ hasText: 'Saved on this tablet' }).first().waitFor();
  planted.push(...(await writtenDown(clinician, page)));
  await comesToLie(clinician, planted);
  await nothingInClear(clinician, words, planted, 'while it is in use');

  await lock(page);
  await page.getByRole('heading', { level: 1, name: 'Sign in' }).waitFor();
  planted.push(...(await writtenDown(clinician, page)));
  await nothingInClear(clinician, words, planted, 'after a lock');

  await signIn(page, url, 'marit');
  await toNotes(page);
  await fields.nth(2).fill(typed.unsaved);
  planted.push(...(await writtenDown(clinician, page)));
  await killBrowser(clinician, tablet.context);
  await nothingInClear(clinician, words, planted, 'after a kill');

  tablet = await openBrowser(clinician);
  page = tablet.page;
  await signIn(page, url, 'marit');
  await toNotes(page);
  const last = await writtenDown(clinician, page);
  await tablet.close();
  await nothingInClear(clinician, words, [...planted, ...last], 'after closing');
});

test('a lead’s profile holds no name, no words that were searched for and no note in clear', async () => {
  const profile = await service.profile();
  const tablet = await openBrowser(profile);
  const { page } = tablet;
  const beside = await tablet.context.newPage();
  await beside.goto(url);
  const planted = [...(await plant(beside)), ...(await typeOpenly(beside))];
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
  await follow(page, 'Caseload');
  await page.getByRole('tab', { name: /Set aside/ }).click();
  await page.getByText('Settle it').first().click();
  await page.getByLabel('What was done').first().fill(typed.reason);
  planted.push(...(await writtenDown(profile, page)));
  await nothingInClear(profile, words, planted, 'while it is in use');

  // An administrator at the same desk, with somebody's name half typed.
  await page.getByRole('button', { name: 'Sign out' }).click();
  await signIn(page, url, 'perrin');
  await page.getByRole('button', { name: 'New person' }).click();
  await page.getByRole('dialog').getByLabel('Name', { exact: true }).fill(typed.person);
  planted.push(...(await writtenDown(profile, page)));
  await comesToLie(profile, planted);
  await killBrowser(profile, tablet.context);
  await nothingInClear(profile, words, planted, 'after a kill');
  const again = await openBrowser(profile);
  await again.page.goto(url);
  await again.page.getByLabel('Password', { exact: true }).waitFor();
  await again.close();
  await nothingInClear(profile, words, [], 'after closing');
});

test('a withdrawn tablet’s profile holds no name and no note in clear', async () => {
  const tablet = await openBrowser(clinician);
  const { page } = tablet;
  await signIn(page, url, 'marit');
  const words = await secretWords(page);
  await toNotes(page);
  await page.locator('main textarea').nth(1).fill(typed.unsaved);
  const planted = await writtenDown(clinician, page);
  const { tablet: id } = await (await page.request.get(`${url}/api/v1/session`)).json();
  await withdraw(url, id);
  await thisTablet(page);
  await page.getByRole('button', { name: 'Send and fetch now' }).click();
  await page.getByText('You can hand it back.').waitFor();
  planted.push(...(await writtenDown(clinician, page)));
  await nothingInClear(clinician, words, planted, 'once it is cleared');
  await tablet.close();
  await nothingInClear(clinician, words, planted, 'after closing');
});
