// @ts-check
// Nothing typed is lost: every form of every screen is filled half, the browser is
// killed, and everything stands there again as it was left. Forms are found by
// walking the screens: one that keeps nothing is noticed without being named here.
import assert from 'node:assert/strict';
import { afterEach, test } from 'node:test';
import { killBrowser } from './fault.mjs';
import { keptOffline, signIn } from './actions.mjs';
import { clinicianPlaces, officePlaces } from './screen-list.mjs';
import { closeAll, named, openBrowser, useServer } from './setup.mjs';

/** @typedef {import('playwright-core').Page} Page */
/** @typedef {{ what: string, value: string }} Field */

const service = useServer();
afterEach(closeAll);

/**
 * What is no form: a password is never kept; what is searched for, and which rows or
 * views of a list are shown, is looked at and said to nobody.
 */
const NO_FORM = [
  'input[type=password]',
  'input[type=search]',
  'input[autocomplete=username]',
  '.filters *',
  '.site-picker input[name] + *',
  '[data-view] *',
].join(', ');

/** Runs in the page: fills every other field of what is shown as somebody would, and says what stands in all of them. @param {string} noForm */
function fillHalf(noForm) {
  const set = (/** @type {HTMLInputElement | HTMLTextAreaElement | HTMLSelectElement} */ field, /** @type {string} */ value) => {
    Object.getOwnPropertyDescriptor(Object.getPrototypeOf(field), 'value')?.set?.call(field, value);
    field.dispatchEvent(new Event('input', { bubbles: true }));
    if (field instanceof HTMLSelectElement) field.dispatchEvent(new Event('change', { bubbles: true }));
  };
  const fields = [...document.querySelectorAll('main input, main textarea, main select')].filter((one) => !one.matches(noForm));
  const typed = fields.filter((one) => one.matches('textarea, input[type=text], input[type=date]'));
  typed.forEach((one, at) => {
    if (at % 2 > 0) return;
    const field = /** @type {HTMLInputElement} */ (one);
    // Never left: what is not left is not saved, and must be there all the same.
    set(
      field,
      field.type === 'date'
        ? '2026-03-0' + ((at % 8) + 1)
        : field.inputMode === 'text' || field.inputMode === '' || field.tagName === 'TEXTAREA'
          ? `half a sente ${at}`
          : String(at + 1),
    );
  });
  return typed.length;
}

/** Runs in the page: what stands in the fields, each by its label and how often that label stood before. @param {string} noForm */
function standing(noForm) {
  /** @type {Record<string, number>} */
  const counted = {};
  return [...document.querySelectorAll('main input, main textarea, main select, dialog[open] input')]
    .filter((one) => !one.matches(noForm))
    .map((one) => {
      const field = /** @type {HTMLInputElement} */ (one);
      const group = field.closest('fieldset')?.querySelector('legend')?.textContent ?? '';
      const label = `${group} ${(field.labels?.[0]?.textContent ?? field.getAttribute('aria-label') ?? '').trim()}`;
      counted[label] = (counted[label] ?? 0) + 1;
      const value = field.type === 'radio' || field.type === 'checkbox' ? String(field.checked) : field.value;
      return `${label} ${counted[label]}: ${value}`;
    });
}

/** What lies in the rows of drafts, encrypted as it is. @param {Page} page */
const rows = (page) =>
  page.evaluate(async () => {
    const found = [];
    for (const { name } of await indexedDB.databases()) {
      const db = await new Promise((resolve, reject) => {
        const asked = indexedDB.open(name ?? '');
        asked.onsuccess = () => resolve(asked.result);
        asked.onerror = () => reject(asked.error);
      });
      if (db.objectStoreNames.contains('drafts'))
        found.push(
          ...(await new Promise((resolve) => {
            const asked = db.transaction('drafts').objectStore('drafts').getAll();
            asked.onsuccess = () => resolve(asked.result.map((/** @type {any} */ row) => `${row.key} ${row.box.slice(0, 12).join()}`));
          })),
        );
      db.close();
    }
    return found.join(' ');
  });

/** Waits until what was typed is on the disk; all of a screen goes there in one write. @param {Page} page @param {string} before */
async function written(page, before) {
  const end = Date.now() + 15_000;
  while ((await rows(page)) === before) assert.ok(Date.now() < end, `what is typed at ${page.url()} comes to the disk`);
}

/**
 * Fills half of each screen, kills the browser, and compares.
 * @param {string} url @param {string} who @param {readonly import('./screen-list.mjs').Place[]} places @param {number} least how many fields there are at least
 */
async function walk(url, who, places, least) {
  const profile = await service.profile();
  let tablet = await openBrowser(profile);
  /** @type {{ name: string, path: string, fields: string[] }[]} */
  const left = [];
  let typed = 0;
  for (const place of places) {
    await place.go(tablet.page);
    const { pathname, search } = new URL(tablet.page.url());
    if (left.some((one) => one.path === pathname + search) || pathname === '/sign-in') continue;
    const before = await rows(tablet.page);
    const here = await tablet.page.evaluate(fillHalf, NO_FORM);
    if (here === 0) continue;
    typed += here;
    await written(tablet.page, before);
    left.push({ name: place.name, path: pathname + search, fields: await tablet.page.evaluate(standing, NO_FORM) });
  }
  assert.ok(typed >= least, `${typed} fields to type into were found, ${least} at least are there`);
  await keptOffline(tablet.page);
  await killBrowser(profile, tablet.context);
  tablet = await openBrowser(profile);
  await signIn(tablet.page, url, who);
  const lost = [];
  for (const { name, path, fields } of left) {
    await tablet.page.evaluate((to) => {
      history.pushState(null, '', to);
      dispatchEvent(new PopStateEvent('popstate'));
    }, path);
    const same = () => tablet.page.evaluate(standing, NO_FORM).then((now) => JSON.stringify(now) === JSON.stringify(fields));
    const end = Date.now() + 15_000;
    while (!(await same()) && Date.now() < end);
    const now = await tablet.page.evaluate(standing, NO_FORM);
    const gone = fields.filter((one) => !now.includes(one));
    if (gone.length > 0) lost.push({ name, gone, now: now.filter((one) => !fields.includes(one)) });
  }
  assert.deepEqual(lost, [], 'everything stands there as it was left');
  assert.deepEqual(tablet.problems, []);
  await tablet.close();
}

test('a killed browser loses nothing that a clinician was typing, on any screen', async () => {
  const url = named(service.server.url);
  // Screens of trouble change the tablet itself; they have no form.
  const places = clinicianPlaces(url).filter(({ name }) => !/^(account-sessions|trouble|set-aside|withdrawn|damaged|sync-)/.test(name));
  const last = places.findIndex(({ name }) => name === 'account');
  await walk(url, 'marit', places.slice(0, last + 1), 40);
});

test('a killed browser loses nothing that a lead was typing, on any screen', async () => {
  const places = officePlaces(service.server.url);
  await walk(
    service.server.url,
    'ilse',
    places.filter(({ name }) => name !== 'people'),
    4,
  );
});

test('after a reload the PIN resumes; when the worker was ended, the password is asked for and said why', async () => {
  const { page, context, problems, close } = await openBrowser(await service.profile());
  const url = named(service.server.url);
  await signIn(page, url, 'marit');
  await keptOffline(page);
  await page.evaluate(() => {
    history.pushState(null, '', '/people');
    dispatchEvent(new PopStateEvent('popstate'));
  });
  await page.getByText('PIN for today').click();
  await page.getByLabel('New PIN').fill('204060');
  await page.getByRole('button', { name: 'Set the PIN' }).click();
  await page.getByText('brings you back for two hours').waitFor();
  await page.reload();
  // Wrong tries in the page before and after a reload are one count.
  for (const left of ['4 tries are', '3 tries are']) {
    await page.getByLabel('PIN', { exact: true }).fill('111112');
    await page.getByRole('button', { name: 'Go on' }).click();
    await page.getByText(`${left} left`).waitFor();
  }
  await page.reload();
  await page.getByLabel('PIN', { exact: true }).fill('111112');
  await page.getByRole('button', { name: 'Go on' }).click();
  await page.getByText('2 tries are left').waitFor();
  await page.getByLabel('PIN', { exact: true }).fill('');
  for (const key of '204060')
    await page.getByRole('group', { name: 'Number keys' }).getByRole('button', { name: key, exact: true }).click();
  await page.getByRole('button', { name: 'Go on' }).click();
  await page.getByRole('heading', { level: 1, name: 'Your account' }).waitFor();

  const debug = await context.newCDPSession(page);
  await debug.send('ServiceWorker.enable');
  await debug.send('ServiceWorker.stopAllWorkers');
  await page.reload();
  await page.getByText('the browser has put away the keys').waitFor();
  assert.equal(await page.getByLabel('PIN', { exact: true }).count(), 0);
  await signIn(page, page.url(), 'marit');
  assert.deepEqual(problems, []);
  await close();
});

test('the lock is told half a minute before, and a touch keeps the tablet open', async () => {
  const { page, problems, close } = await openBrowser(await service.profile());
  await signIn(page, service.server.url, 'marit');
  const warning = page.getByRole('alertdialog', { name: 'This tablet locks soon' });
  const ahead = (/** @type {number} */ ms) =>
    page.evaluate((by) => {
      const now = Date.now;
      Date.now = () => now() + by;
    }, ms);
  await ahead(10 * 60_000 - 20_000);
  await warning.waitFor();
  await warning.getByRole('button', { name: 'Stay' }).click();
  await warning.waitFor({ state: 'detached' });
  await ahead(10 * 60_000 + 1_000);
  await page.getByRole('heading', { level: 1, name: 'Sign in' }).waitFor();
  await page.getByText('so the password opens it').waitFor();
  assert.deepEqual(problems, []);
  await close();
});
