// @ts-check
// Somebody has the disk of a locked tablet: what they change in it is told at the
// next unlocking, and of a withdrawn tablet they find nothing.
import assert from 'node:assert/strict';
import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterEach, test } from 'node:test';
import { closeAll, named, openBrowser, useServer } from './setup.mjs';
import { keptOffline, signIn } from './actions.mjs';

/** @typedef {import('playwright-core').Page} Page */

const service = useServer();
const client = 'Heath Ellery';

afterEach(closeAll);

/**
 * Puts rows of a database in place of others by script, as who has the disk can.
 * @param {Page} page @param {string} database how its name begins @param {string} store @param {object} by laid over each row that it is meant for @param {string} [index] an index that those rows are in
 */
const tamper = (page, database, store, by, index) =>
  page.evaluate(
    async ([begins, name, fields, among]) => {
      const all = await indexedDB.databases();
      const found = all.map((one) => one.name ?? '').find((one) => one.startsWith(String(begins)));
      return new Promise((resolve, reject) => {
        const asked = indexedDB.open(found ?? '');
        asked.onerror = () => reject(asked.error);
        asked.onsuccess = () => {
          const tx = asked.result.transaction(String(name), 'readwrite', { durability: 'strict' });
          const rows = tx.objectStore(String(name));
          const read = among ? rows.index(String(among)).getAll() : rows.getAll();
          read.onsuccess = () => {
            for (const row of read.result) rows.put({ ...row, .../** @type {object} */ (fields) });
          };
          tx.onabort = () => reject(tx.error);
          tx.oncomplete = () => {
            asked.result.close();
            resolve(read.result.length);
          };
        };
      });
    },
    [database, store, by, index ?? ''],
  );

test('entries that were set aside on the disk of a locked tablet are told at the next unlocking, and come back', async () => {
  const url = named(service.server.url);
  const profile = await service.profile();
  let tablet = await openBrowser(profile);
  let { page } = tablet;
  await signIn(page, url, 'marit');
  await page.getByRole('link', { name: client }).waitFor();
  await keptOffline(page);
  await page.getByRole('button', { name: 'Lock', exact: true }).click();
  await page.getByRole('heading', { level: 1, name: 'Sign in' }).waitFor();
  await page.goto(url);
  assert.ok(Number(await tamper(page, 'doorsill-', 'events', { aside: 1 })) > 50);
  await tablet.close();
  await service.server.stop();

  tablet = await openBrowser(profile);
  page = tablet.page;
  await signIn(page, url, 'marit');
  // Without a network it is told, and what is here is shown.
  const told = page.locator('.banner-word').getByText('Records here were changed outside Doorsill');
  await told.waitFor();
  await page.getByRole('link', { name: client }).waitFor();
  await service.again();
  await signIn(page, url, 'marit');
  await told.waitFor();
  await page.locator('.top-sync').click();
  // All of the team is fetched anew.
  await page.getByRole('button', { name: 'Send and fetch now' }).waitFor({ timeout: 90_000 });
  await page.getByText('0 entries', { exact: true }).waitFor();
  await page.getByRole('button', { name: 'Put this message away' }).click();
  await told.waitFor({ state: 'detached' });
  await tablet.close();

  tablet = await openBrowser(profile);
  page = tablet.page;
  await signIn(page, url, 'marit');
  await page.getByRole('link', { name: client }).waitFor();
  assert.equal(await page.locator('.banner-word').getByText('Records here were changed outside Doorsill').count(), 0);
  assert.deepEqual(tablet.problems, []);
  await tablet.close();
});

/** The boxes of the one who may unlock the tablet. @param {Page} page @returns {Promise<{ [field: string]: string }>} in base64 */
const wrappedKeys = (page) =>
  page.evaluate(
    () =>
      new Promise((resolve) => {
        const asked = indexedDB.open('doorsill');
        asked.onsuccess = () => {
          const all = asked.result.transaction('keepers').objectStore('keepers').getAll();
          all.onsuccess = () => {
            asked.result.close();
            const { wrapped, data, params } = all.result[0];
            const text = (/** @type {Uint8Array} */ bytes) => btoa(String.fromCharCode(...bytes));
            resolve({ wrapped: text(wrapped), data: text(data[0]), salt: text(params.salt) });
          };
        };
      }),
  );

/**
 * In which files of a folder sixteen bytes of a key stand in a row: a log cuts
 * what it holds at the ends of its blocks, and random bytes cannot be packed.
 * @param {string} folder @param {string} key
 */
async function filesWith(folder, key) {
  const bytes = Buffer.from(key, 'base64');
  const names = await readdir(folder, { recursive: true, withFileTypes: true });
  const found = [];
  for (const one of names.filter((name) => name.isFile())) {
    const path = join(one.parentPath, one.name);
    // A browser that is open takes files away as it goes.
    const file = await readFile(path).catch(() => Buffer.alloc(0));
    for (let at = 0; at + 16 <= bytes.length; at++)
      if (file.includes(bytes.subarray(at, at + 16))) {
        found.push(path.slice(folder.length));
        break;
      }
  }
  return found;
}

test('of a withdrawn tablet’s wrapped keys nothing is left in any file of the browser', async () => {
  const url = named(service.server.url);
  const profile = await service.profile();
  const tablet = await openBrowser(profile);
  const { page } = tablet;
  await signIn(page, url, 'marit');
  await page.getByRole('link', { name: client }).waitFor();
  await keptOffline(page);
  await page.locator('.top-sync').click();
  await page.getByText('0 entries', { exact: true }).waitFor();
  const keys = await wrappedKeys(page);
  for (const [what, key] of Object.entries(keys))
    assert.notDeepEqual(await filesWith(profile, key), [], `${what}: the search finds what is there`);

  await withdrawAll(url);
  await page.getByRole('button', { name: 'Send and fetch now' }).click();
  await page.getByText('your records were cleared from it').waitFor();
  const databases = await page.evaluate(async () => (await indexedDB.databases()).map((one) => one.name));
  assert.deepEqual(databases, []);
  await tablet.close();
  for (const [what, key] of Object.entries(keys)) assert.deepEqual(await filesWith(profile, key), [], what);
});

/** The lead of the team takes every tablet of the team out of use, on a device of her own. @param {string} url */
async function withdrawAll(url) {
  const { page, close } = await openBrowser(await service.profile());
  await signIn(page, url, 'ilse');
  await page.evaluate(async () => {
    const said = async (/** @type {string} */ method, /** @type {string} */ path) => {
      const answer = await fetch(path, { method });
      if (!answer.ok) throw new Error(`${method} ${path}: ${answer.status} ${await answer.text()}`);
      return answer.status === 204 ? null : answer.json();
    };
    for (const { id } of (await said('GET', '/api/v1/session')).teams)
      for (const one of (await said('GET', `/api/v1/teams/${id}/tablets`)).tablets) await said('POST', `/api/v1/tablets/${one.id}/revoke`);
  });
  await close();
}
