// @ts-check
// Networks that lie or crawl.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { client, item, part, pass, portal, refuse, untilSeen, useFaultyNetwork, visitId } from './fault.mjs';
import { itemCard, keptOffline, openVisit, pick, sendAll, signIn, thisTablet, tile, touch } from './actions.mjs';

const network = useFaultyNetwork();

test('fault 06: a network that answers everything with its own page', async () => {
  const { page, context, problems } = await network.tablet();

  // The copy for work without a network must not be made of that page.
  await page.goto(network.proxy.url);
  await page.getByRole('heading', { level: 1, name: 'Sign in' }).waitFor();
  await keptOffline(page);
  await page.evaluate(async () => {
    for (const one of await navigator.serviceWorker.getRegistrations()) await one.unregister();
    for (const name of await caches.keys()) await caches.delete(name);
  });
  const forCopy = (/** @type {import('./fault.mjs').Asked} */ { path, headers }) =>
    headers['sec-fetch-dest'] === 'empty' && !path.startsWith('/api/');
  network.proxy.rule = (asked) => (forCopy(asked) ? portal(asked) : pass(asked));
  const since = network.proxy.seen.length;
  await page.goto(network.proxy.url);
  await untilSeen(network.proxy, forCopy, since);
  await page.waitForFunction(async () => (await navigator.serviceWorker.getRegistration())?.installing == null);
  assert.deepEqual(await page.evaluate(() => caches.keys()), [], 'nothing of the portal was kept as the app');
  network.proxy.rule = pass;
  await signIn(page, network.proxy.url, 'marit');
  await keptOffline(page);

  // Work goes on, and nothing counts as sent.
  await openVisit(page, client);
  network.proxy.rule = portal;
  await pick(page, part, item, '4');
  await thisTablet(page);
  await page.getByRole('button', { name: 'Send and fetch now' }).click();
  await page.getByText('This network is not connected yet').first().waitFor();
  await page.getByText('1 entry', { exact: true }).waitFor();

  // Neither a new version nor a missing file is taken from that page.
  const updated = await page.evaluate(async () => {
    const one = await navigator.serviceWorker.ready;
    return one.update().then(
      () => one.waiting !== null,
      () => false,
    );
  });
  assert.equal(updated, false);
  assert.equal(await page.evaluate(async () => (await fetch('/assets/not-of-this-version.js')).status), 404);
  const html = await page.evaluate(async () => {
    const found = [];
    for (const name of await caches.keys()) {
      const cache = await caches.open(name);
      for (const key of await cache.keys()) {
        const kept = await cache.match(key);
        if (kept?.headers.get('Content-Type')?.startsWith('text/html'))
          found.push([new URL(key.url).pathname, (await kept.text()).includes('guest network')]);
      }
    }
    return found;
  });
  assert.deepEqual(html, [['/', false]]);
  await page.reload();
  await page.getByRole('heading', { level: 1, name: 'Sign in' }).waitFor();
  await signIn(page, `${network.proxy.url}/`, 'marit');

  network.proxy.rule = pass;
  await sendAll(page);
  assert.deepEqual(problems, []);
  await context.close();
});

test('fault 11: a slow network that stalls and drops', async () => {
  const { page, context, problems } = await network.tablet();
  const debug = await context.newCDPSession(page);
  await debug.send('Network.enable');
  await debug.send('Network.emulateNetworkConditions', {
    offline: false,
    latency: 300,
    downloadThroughput: 200_000,
    uploadThroughput: 50_000,
  });
  await network.atVisit(page);

  const visit = visitId(page);

  // The first push hangs; nobody waits for it.
  let hanging = 0;
  /** @type {() => void} */
  let release = () => undefined;
  const released = new Promise((resolve) => {
    release = () => resolve(undefined);
  });
  network.proxy.rule = async ({ method, path }) => {
    if (method !== 'POST' || path !== '/api/v1/events') return { kind: 'pass' };
    hanging += 1;
    await released;
    return { kind: 'cut' };
  };
  const since = network.proxy.seen.length;
  await pick(page, part, item, '3');
  await untilSeen(network.proxy, ({ path }) => path === '/api/v1/events', since);
  assert.equal(hanging, 1);
  await touch(page, item, '4');
  await itemCard(page, item).locator('.saved').filter({ hasText: 'Saved on this tablet' }).waitFor();
  await thisTablet(page);
  await page.getByText('2 entries', { exact: true }).waitFor();

  // Then every third request is lost, some only after the server had them.
  let count = 0;
  network.proxy.rule = ({ path }) => {
    if (!path.startsWith('/api/')) return { kind: 'pass' };
    count += 1;
    return count % 3 === 0 ? { kind: count % 2 === 0 ? 'cut' : 'cut-after' } : { kind: 'pass' };
  };
  release();
  await page.goBack();
  await sendAll(page);
  network.proxy.rule = pass;
  assert.deepEqual(await network.levelsOnServer(page, visit), ['4'], 'the last word arrived, once');
  assert.deepEqual(problems, []);
  await context.close();
});

test('an answer that the server sets aside while its card is open is not shown as if it stood', async () => {
  const { page, context, problems } = await network.tablet();
  await network.atVisit(page);
  await tile(page, part);
  // No other test answers this one.
  const mode = 'Speed and mode';
  const chosen = itemCard(page, mode).locator('input:checked');
  await touch(page, mode, '3');
  await itemCard(page, mode).locator('.saved').filter({ hasText: 'Saved on this tablet' }).waitFor();
  await sendAll(page);
  await page.goBack();
  await itemCard(page, mode).locator('input[value="3"]:checked').waitFor();

  // From here on the server takes nothing, and the tablet learns of nothing else.
  let answered = () => {};
  const isAnswered = new Promise((resolve) => {
    answered = () => resolve(undefined);
  });
  network.proxy.rule = async ({ method, path }) => {
    if (method === 'GET' && path.includes('/events')) return refuse(503, 'busy');
    if (method !== 'POST' || path !== '/api/v1/events') return { kind: 'pass' };
    await isAnswered;
    const aside = { verdict: 'quarantined', code: 'signed', hint: 'The visit was signed before this entry arrived.' };
    const change = (/** @type {string} */ body) => {
      const answer = JSON.parse(body);
      return JSON.stringify({
        ...answer,
        verdicts: answer.verdicts.map((/** @type {{ n: number }} */ one) => ({ n: one.n, ...aside })),
      });
    };
    return { kind: 'pass', change };
  };
  await touch(page, mode, '1');
  await itemCard(page, mode).locator('input[value="1"]:checked').waitFor();
  await itemCard(page, mode).locator('.saved').filter({ hasText: 'Saved on this tablet' }).waitFor();
  answered();
  await itemCard(page, mode).locator('input[value="3"]:checked').waitFor();
  assert.equal(await chosen.count(), 1);
  await itemCard(page, mode).getByText('Set aside by the server').waitFor();
  assert.equal(await itemCard(page, mode).getByText('Saved on this tablet').count(), 0);
  assert.deepEqual(problems, []);
  await context.close();
});
