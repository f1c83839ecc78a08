// @ts-check
// Control words for a search through a browser's profile: each is written in
// clear into one of the places where a page can leave something. A search that
// does not find all of them proves nothing by what it does not find.
import { createServer } from 'node:http';
import { randomBytes } from 'node:crypto';
import zlib from 'node:zlib';

/** @typedef {import('playwright-core').Page} Page */

const half = () => randomBytes(5).toString('hex');

/** A word, and a long text in which its halves stand apart first: packed, the word itself is nowhere in the bytes. */
function split(/** @type {string} */ place) {
  const [left, right] = [`${place}${half()}`, half()];
  return { word: left + right, text: `${`${left} | ${right} | `.repeat(20)}${left}${right}${' '.repeat(200)}` };
}

/** A site whose pages the browser keeps packed in its cache. @param {Readonly<Record<string, string>>} texts by the name of the packing */
async function startSite(texts) {
  const pack = /** @type {Record<string, (text: string) => Buffer>} */ ({
    gzip: (text) => zlib.gzipSync(text),
    deflate: (text) => zlib.deflateSync(text),
    br: (text) => zlib.brotliCompressSync(text),
  });
  const server = createServer((request, response) => {
    const kind = request.url?.slice(1) ?? '';
    const body = pack[kind]?.(`<!doctype html><p>${texts[kind]}</p>`);
    if (body === undefined) return response.writeHead(404).end();
    response.writeHead(200, { 'Content-Type': 'text/html', 'Content-Encoding': kind, 'Cache-Control': 'max-age=3600' });
    return response.end(body);
  });
  await new Promise((resolve) => server.listen(0, '127.0.0.1', () => resolve(undefined)));
  const address = server.address();
  return { url: `http://localhost:${typeof address === 'object' && address ? address.port : 0}`, stop: () => server.close() };
}

/**
 * Adds fields to the page that is shown, as a screen would that does not see to
 * it, and types a word into each. Once the words lie in the profile, the browser
 * has written what it keeps of this page.
 * @param {Page} page
 */
export async function typeOpenly(page) {
  const words = { input: `input${half()}`, textarea: `area${half()}` };
  for (const [kind, word] of Object.entries(words)) {
    await page.evaluate((name) => {
      // While a dialog is open, nothing else can be typed into.
      (document.querySelector('dialog[open]') ?? document.body).append(Object.assign(document.createElement(name), { id: `open-${name}` }));
    }, kind);
    const field = page.locator(`#open-${kind}`);
    await field.fill(word);
    await field.evaluate((element) => element.removeAttribute('id'));
  }
  return Object.values(words);
}

/**
 * Leaves a word in every other place, from a page of the app's own origin.
 * @param {Page} page
 */
export async function plant(page) {
  const packed = {
    gzip: split('gzip'),
    deflate: split('deflate'),
    br: split('br'),
    database: split('database'),
    cache: split('cache'),
  };
  const site = await startSite({ gzip: packed.gzip.text, deflate: packed.deflate.text, br: packed.br.text });
  const app = page.url();
  for (const kind of ['gzip', 'deflate', 'br']) await page.goto(`${site.url}/${kind}`);
  site.stop();
  await page.goto(app);
  // The app names its window once, when it has drawn itself.
  await page.waitForFunction(() => document.title.endsWith('– Doorsill'));
  const named = ['title', 'address', 'state', 'local', 'session', 'row', 'blob', 'name'];
  const plain = Object.fromEntries(named.map((place) => [place, `${place}${half()}`]));
  const texts = { database: packed.database.text, cache: packed.cache.text };
  await page.evaluate(
    async ({ plain: word, texts: text }) => {
      history.pushState({ text: word['state'] }, '', `/sign-in?planted=${word['address']}`);
      document.title = word['title'] ?? '';
      localStorage.setItem('planted', word['local'] ?? '');
      sessionStorage.setItem('planted', word['session'] ?? '');
      const cache = await caches.open(`planted-${word['name']}`);
      await cache.put('/planted', new Response(text.cache));
      const asked = indexedDB.open('planted', 1);
      asked.onupgradeneeded = () => asked.result.createObjectStore('rows');
      await new Promise((resolve) => {
        asked.onsuccess = resolve;
      });
      const tx = asked.result.transaction('rows', 'readwrite', { durability: 'strict' });
      const rows = tx.objectStore('rows');
      rows.put({ text: word['row'] }, 'row');
      rows.put({ text: text.database }, 'packed');
      rows.put({ text: new Blob([word['blob'] ?? '']) }, 'blob');
      rows.put({ text: Array.from({ length: 5000 }, () => text.database).join('') }, 'long');
      await new Promise((resolve) => {
        tx.oncomplete = resolve;
      });
      asked.result.close();
    },
    { plain, texts },
  );
  return [...Object.values(plain), ...Object.values(packed).map(({ word }) => word)];
}
