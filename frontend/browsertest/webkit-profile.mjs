// @ts-check
// What WebKit's profile holds in clear: its databases, its caches, and the
// history and page state that a browser around it writes down. WebKitGTK gives
// out no text of fields with that state; that the app's fields are kept out of
// it where other browsers do is in frontend/ui/inputs.tsx.
import assert from 'node:assert/strict';
import { after, test } from 'node:test';
import { readProfile } from './profile-text.mjs';
import { remove, scratch, startServer } from './setup.mjs';
import { withdraw } from './screen-list-trouble.mjs';
import { button, field, heading, link, signIn, tile } from './webkit-hands.mjs';
import { keepingBrowser, openSession, startDriver, until } from './webdriver.mjs';

const server = await startServer();
after(async () => {
  await server.stop();
  await remove(server.data);
});

/**
 * Tells a story in a browser with a profile of its own.
 * @param {(at: { page: import('./webkit-hands.mjs').Session, home: string, end: (signal?: NodeJS.Signals) => Promise<unknown> }) => Promise<void>} story
 */
async function inBrowser(story) {
  const home = await scratch('webkit-profile');
  const driver = await startDriver(home);
  let runs = true;
  const end = async (/** @type {NodeJS.Signals | undefined} */ signal) => {
    if (runs) await driver.stop(signal);
    runs = false;
  };
  try {
    await story({ page: await openSession(driver.base, keepingBrowser(`${home}/kept`)), home, end });
  } finally {
    await end('SIGTERM');
    await remove(home);
  }
}

const note = 'Quillon Marrowby is wary of kerbs';
const unsaved = 'Ottoline says half a sente';
const words = [note, 'Marrowby', unsaved, 'Ottoline', 'Sedge Conway', 'Marit Ashgrove', 'Heath Ellery', 'Hazel Or'];

/** In the page: one word into each place where a page can leave something. */
const planting = `
  localStorage.setItem('planted', 'plantedlocal');
  history.pushState({ text: 'plantedstate' }, '', location.pathname + '?plantedaddress');
  document.title = 'plantedtitle';
  const asked = indexedDB.open('planted', 1);
  asked.onupgradeneeded = () => asked.result.createObjectStore('rows');
  asked.onsuccess = () => asked.result.transaction('rows', 'readwrite').objectStore('rows').put({ text: 'plantedrow' }, 1);
  caches.open('planted').then((cache) => cache.put('/planted', new Response('plantedcache')));`;
/** In the page: a step on, for a lock and a withdrawal replace the page that is shown; what was planted stays behind it. */
const further = 'history.pushState(null, "", location.pathname)';
const planted = ['plantedlocal', 'plantedstate', 'plantedaddress', 'plantedtitle', 'plantedrow', 'plantedcache'];

/** @param {string} home @param {string} when @param {readonly string[]} [control] what was planted and must be found */
async function nothingInClear(home, when, control = planted) {
  let missing = control;
  await until('the search finds what was planted in clear', async () => {
    const found = await readProfile(home);
    missing = control.filter((word) => found.holding(word).length === 0);
    return missing.length === 0;
  }).catch(() => assert.fail(`planted in clear and not found: ${missing.join(', ')}`));
  const text = await readProfile(home);
  assert.deepEqual(
    words.flatMap((word) => text.holding(word).map((file) => `${word}: ${file}`)),
    [],
    `${when}: nothing lies in clear`,
  );
}

/** Writes one note and leaves another half written. @param {import('./webkit-hands.mjs').Session} page */
async function writeNotes(page) {
  await page.touch(link('Heath Ellery'));
  await page.touch(link('Go on with the open visit'));
  await page.touch(tile('Visit notes'));
  await page.type(field('Who was present'), note);
  await page.type(field('Consent'), unsaved);
  await page.see('//*[contains(@class, "saved")][contains(., "Saved on this tablet")]');
}

test('WebKit’s profile of a clinician holds no name and no note in clear', () =>
  inBrowser(async ({ page, home, end }) => {
    console.log(`# ${page.version}`);
    await signIn(page, server.url);
    await page.type('//input[@type="search"]', 'Heath');
    await writeNotes(page);
    await page.run(planting);
    await nothingInClear(home, 'while it is in use');
    await page.run(further);
    await page.touch(button('Take a break'));
    await page.touch(button('Lock the tablet'));
    await page.see('//h1[normalize-space()="Sign in"]');
    await nothingInClear(home, 'after a lock');
    await end();
    await nothingInClear(home, 'after the browser’s end');
  }));

test('WebKit’s profile of a killed browser holds no name and no note in clear', () =>
  inBrowser(async ({ page, home, end }) => {
    await signIn(page, server.url);
    await writeNotes(page);
    await page.run(planting);
    await nothingInClear(home, 'while it is in use');
    await end('SIGKILL');
    await nothingInClear(home, 'after a kill');
  }));

test('WebKit’s profile of a lead holds no name and no words that were searched for in clear', () =>
  inBrowser(async ({ page, home, end }) => {
    await signIn(page, server.url, 'ilse');
    await page.touch(link('Caseload'));
    await page.type(field('Name or number'), 'Hazel Or');
    await page.touch(link('Hazel Orme'));
    await page.see(heading('Hazel Orme'));
    await page.run(planting);
    await nothingInClear(home, 'while it is in use');
    await end();
    await nothingInClear(home, 'after the browser’s end');
  }));

test('WebKit’s profile of a withdrawn tablet holds no name and no note in clear', () =>
  inBrowser(async ({ page, home, end }) => {
    await signIn(page, server.url);
    await writeNotes(page);
    await page.run(planting);
    await nothingInClear(home, 'while it is in use');
    await page.run(further);
    await page.run('fetch("/api/v1/session").then((answer) => answer.json()).then(({ tablet }) => (window.tablet = tablet))');
    await until('the tablet’s name', () => page.run('return window.tablet'));
    await withdraw(server.url, String(await page.run('return window.tablet')));
    await page.see('//*[contains(., "You can hand it back.")]', 90_000);
    // The browser may have taken the app's databases and caches away.
    const left = ['plantedaddress', 'plantedtitle'];
    await nothingInClear(home, 'once it is cleared', left);
    await end();
    await nothingInClear(home, 'after the browser’s end', left);
  }));
