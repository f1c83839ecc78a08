// @ts-check
// The screens of a tablet that is locked, in trouble or taken back. They follow
// on the last place of a clinician and end with an empty tablet.
import { request } from 'playwright-core';
import { follow, openVisit, pick, setClock, thisTablet } from './actions.mjs';
import { password } from './setup.mjs';

/** @typedef {import('playwright-core').Page} Page */
/** @typedef {import('./screen-list.mjs').Place} Place */

const HOUR = 3_600_000;
const pin = '204060';
const push = '**/api/v1/events';

/** A device with a lock of its own. @param {Page} page */
async function withAuthenticator(page) {
  const debug = await page.context().newCDPSession(page);
  await debug.send('WebAuthn.enable');
  await debug.send('WebAuthn.addVirtualAuthenticator', {
    options: {
      protocol: 'ctap2',
      ctap2Version: 'ctap2_1',
      transport: 'internal',
      hasResidentKey: true,
      hasUserVerification: true,
      isUserVerified: true,
      hasPrf: true,
      automaticPresenceSimulation: true,
    },
  });
}

/** The team takes a tablet back. @param {string} url @param {string} tablet */
export async function withdraw(url, tablet) {
  const lead = await request.newContext();
  await lead.post(`${url}/api/v1/session`, { data: { name: 'ilse', password } });
  const answer = await lead.post(`${url}/api/v1/tablets/${tablet}/revoke`);
  if (!answer.ok()) throw new Error(`the tablet was not withdrawn: ${answer.status()} ${await answer.text()}`);
  await lead.dispose();
}

/** @param {Page} page */
async function toAccount(page) {
  await withAuthenticator(page);
  await follow(page, 'Today');
  await follow(page, 'Account');
  await page.getByText('PIN for today').click();
  await page.getByLabel('New PIN').fill(pin);
  await page.getByRole('button', { name: 'Set the PIN' }).click();
  await page.getByText('brings you back for two hours').waitFor();
  await page.getByText('Passkey', { exact: true }).click();
  await page.getByLabel('Your password').fill(password);
  await page.getByRole('button', { name: 'Make a passkey' }).click();
  await page.getByText('The passkey opens this tablet').waitFor();
}

/** @param {Page} page */
async function lockAndMiss(page) {
  await page.getByRole('button', { name: 'Lock', exact: true }).click();
  await page.getByLabel('PIN', { exact: true }).fill('999999');
  await page.getByRole('button', { name: 'Go on' }).click();
  await page.getByText('4 tries are left').waitFor();
}

/** An entry of two days ago that the server does not take, on a clock that is an hour ahead. @param {Page} page */
async function waitForLong(page) {
  await page.getByLabel('PIN', { exact: true }).fill(pin);
  await page.getByRole('button', { name: 'Go on' }).click();
  await page.getByRole('banner').waitFor();
  await setClock(page, HOUR);
  await thisTablet(page);
  await page.getByRole('button', { name: 'Send and fetch now' }).click();
  await page.locator('.banner').filter({ hasText: 'This tablet’s clock' }).waitFor();
  await page.route(push, (route) =>
    route.fulfill({
      status: 503,
      contentType: 'application/json',
      body: JSON.stringify({ error: 'server-full', message: 'The server has no room left.' }),
    }),
  );
  await setClock(page, -48 * HOUR);
  await follow(page, 'Today');
  await openVisit(page, 'Heath Ellery');
  await pick(page, 'Switches and mounting', 'On and off', '2');
  await setClock(page, HOUR);
  await page.locator('.red-line').waitFor();
}

/** @param {Page} page */
async function allWrong(page) {
  await page.evaluate(() => {
    navigator.storage.estimate = () => Promise.resolve({ quota: 50_000_000, usage: 38_000_000 });
    document.dispatchEvent(new Event('visibilitychange'));
  });
  await thisTablet(page);
  await page.getByRole('button', { name: 'Send and fetch now' }).click();
  await page.getByText('The server is full').first().waitFor();
  await page.getByText('Little room left').first().waitFor();
}

/** @param {Page} page @param {string} url */
async function taken(page, url) {
  const { tablet } = await (await page.request.get(`${url}/api/v1/session`)).json();
  await withdraw(url, tablet);
  await page.getByRole('button', { name: 'Send and fetch now' }).click();
  await page.getByText('Some entries could not be sent').waitFor();
}

/** @param {Page} page */
async function cleared(page) {
  await page.unroute(push);
  await page.getByRole('button', { name: 'To the sign-in' }).click();
  await page.getByLabel('Name', { exact: true }).fill('marit');
  await page.getByLabel('Password', { exact: true }).fill(password);
  await page.getByRole('button', { name: 'Sign in' }).click();
  await page.getByText('You can hand it back.').waitFor();
}

/** @param {string} url @returns {Place[]} */
export const troublePlaces = (url) => [
  { name: 'account-locking', go: toAccount },
  { name: 'locked', go: lockAndMiss },
  { name: 'red-line', go: waitForLong },
  { name: 'tablet-all-wrong', go: allWrong },
  { name: 'withdrawn-kept', go: (page) => taken(page, url) },
  { name: 'withdrawn-clear', go: cleared },
];
