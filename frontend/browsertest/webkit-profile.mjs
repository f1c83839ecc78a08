// @ts-check
// What WebKit's profile holds in clear: its databases, its caches, and the
// history and page state that a browser around it writes down. WebKitGTK gives
// out no text of fields with that state; that the app's fields are kept out of
// it where other browsers do is in frontend/ui/inputs.tsx.
import assert from 'node:assert/strict';
import { after, test } from 'node:test';
import { readProfile } from './profile-text.mjs';
import { remove, scratch, startServer } from './setup.mjs';
import { button, field, link, signIn, tile } from './webkit-hands.mjs';
import { keepingBrowser, openSession, startDriver, until } from './webdriver.mjs';

const server = await startServer();
const home = await scratch('webkit-profile');
const driver = await startDriver(home);
after(async () => {
  // The story has stopped it, where it came to its end.
  await driver.stop().catch(() => undefined);
  await server.stop();
  await Promise.all([remove(server.data), remove(home)]);
});

const note = 'Quillon Marrowby is wary of kerbs';
const unsaved = 'Ottoline says half a sente';
const words = [note, 'Marrowby', unsaved, 'Ottoline', 'Sedge Conway', 'Marit Ashgrove', 'Heath Ellery'];

/** In the page: one word into each place where a page can leave something. */
const planting = `
  localStorage.setItem('planted', 'plantedlocal');
  history.pushState({ text: 'plantedstate' }, '', location.pathname + '?plantedaddress');
  document.title = 'plantedtitle';
  const asked = indexedDB.open('planted', 1);
  asked.onupgradeneeded = () => asked.result.createObjectStore('rows');
  asked.onsuccess = () => asked.result.transaction('rows', 'readwrite').objectStore('rows').put({ text: 'plantedrow' }, 1);
  caches.open('planted').then((cache) => cache.put('/planted', new Response('plantedcache')));`;
const planted = ['plantedlocal', 'plantedstate', 'plantedaddress', 'plantedtitle', 'plantedrow', 'plantedcache'];

/** @param {string} when */
async function nothingInClear(when) {
  let missing = planted;
  await until('the search finds what was planted in clear', async () => {
    const found = await readProfile(home);
    missing = planted.filter((word) => found.holding(word).length === 0);
    return missing.length === 0;
  }).catch(() => assert.fail(`planted in clear and not found: ${missing.join(', ')}`));
  const text = await readProfile(home);
  assert.deepEqual(
    words.flatMap((word) => text.holding(word).map((file) => `${word}: ${file}`)),
    [],
    `${when}: nothing lies in clear`,
  );
}

test('WebKit’s profile holds no name and no note in clear', async () => {
  const page = await openSession(driver.base, keepingBrowser(`${home}/kept`));
  console.log(`# ${page.version}`);
  await signIn(page, server.url);
  await page.type('//input[@type="search"]', 'Heath');
  await page.touch(link('Heath Ellery'));
  await page.touch(link('Go on with the open visit'));
  await page.touch(tile('Visit notes'));
  await page.type(field('Who was present'), note);
  await page.type(field('Consent'), unsaved);
  await page.see('//*[contains(@class, "saved")][contains(., "Saved on this tablet")]');
  await page.run(planting);
  await nothingInClear('while it is in use');
  // A lock replaces the page that is shown; what was planted stays behind it.
  await page.run('history.pushState(null, "", location.pathname)');
  await page.touch(button('Lock'));
  await page.see('//h1[normalize-space()="Sign in"]');
  await nothingInClear('after a lock');
  await driver.stop();
  await nothingInClear('after the browser’s end');
});
