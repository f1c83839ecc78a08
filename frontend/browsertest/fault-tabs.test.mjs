// @ts-check
// Several tabs on one tablet: at one visit, and of two versions.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { client, item, newerBuild, part, pass, personId, refuse, useFaultyNetwork, visitId } from './fault.mjs';
import { comesTo, follow, itemCard, keptOffline, pick, sendAll, signIn, staysInField, thisTablet, tile, touch } from './actions.mjs';

/** @typedef {import('playwright-core').Page} Page */

const network = useFaultyNetwork();
const { visitOnServer } = network;

/** @param {Page} page @param {string} title */
const chosen = (page, title, level = '') => itemCard(page, title).locator(`input[value="${level}"]:checked`).waitFor();

test('fault 18: two tabs edit one visit', async () => {
  const { page: one, context, problems } = await network.tablet();
  const two = await context.newPage();
  two.on('pageerror', (error) => problems.push(error.message));
  await network.atVisit(one);
  await network.atVisit(two);
  const visit = visitId(one);
  let [pushing, most] = [0, 0];
  network.proxy.rule = async ({ method, path }) => {
    if (method !== 'POST' || path !== '/api/v1/events') return { kind: 'pass' };
    pushing += 1;
    most = Math.max(most, pushing);
    await new Promise((resolve) => {
      setTimeout(resolve, 50);
    });
    pushing -= 1;
    return { kind: 'pass' };
  };
  await tile(one, 'Driving trial: ramps, outdoors and crowds');
  await tile(two, 'Driving trial: ramps, outdoors and crowds');
  await one.locator('.item-card').first().waitFor();
  const items = await one.evaluate(() =>
    [...document.querySelectorAll('.item-card')]
      .filter((card) => card.querySelector('input[value="1"]') && card.querySelector('input[value="4"]'))
      .map((card) => card.querySelector('h2, h3')?.textContent?.trim() ?? ''),
  );
  const [first, second, both] = items.slice(0, 3);
  assert.ok(first && second && both, 'the part has three items with levels');
  const bothId = await itemCard(one, both).getAttribute('id');

  // At the same moment, on different items and on the same one.
  await Promise.all([touch(one, first, '4'), touch(two, second, '1')]);
  await Promise.all([touch(one, both, '4'), touch(two, both, '1')]);
  for (const page of [one, two]) {
    await chosen(page, first, '4');
    await chosen(page, second, '1');
  }
  await one.waitForFunction((title) => {
    const card = [...document.querySelectorAll('.item-card')].find((each) => each.textContent?.includes(title));
    return card?.querySelector('.saved')?.textContent?.includes('Saved') ?? false;
  }, both);

  await sendAll(one);
  await thisTablet(two);
  await two.getByText('0 entries', { exact: true }).waitFor();
  const kept = await visitOnServer(one, visit);
  assert.equal(
    kept.answers.filter((/** @type {{ heads: unknown[] }} */ answer) => answer.heads.length > 1).length,
    0,
    'one tablet does not contradict itself',
  );
  await two.goBack();
  await one.goBack();
  const answer = kept.answers.find((/** @type {{ item: string }} */ each) => each.item === bothId);
  for (const page of [one, two]) await chosen(page, both, answer.heads[0].level);
  assert.equal(most, 1, 'one tab sends at a time');
  const pull = async (/** @type {number} */ after) =>
    (await one.request.get(`${network.server.url}/api/v1/teams/${kept.team}/events?after=${after}&limit=100`)).json();
  const log = await pull((await pull(0)).head - 4);
  const mine = log.events.map((/** @type {any} */ each) => each.raw).filter((/** @type {any} */ raw) => raw.subject === visit);
  const levels = mine.map((/** @type {any} */ raw) => raw.body.level).sort();
  assert.deepEqual(levels, ['1', '1', '4', '4'], 'all four answers are in the log');
  assert.deepEqual(problems, []);
  await context.close();
});

test('fault 19: a tab of a newer version takes the records over', async () => {
  const { page, context, problems } = await network.tablet();
  await network.atVisit(page);
  const person = await personId(page, network.server.url);
  await follow(page, 'Visit notes');
  const field = page.getByLabel('The story so far');
  await field.fill('Half typed when the other tab was opened');
  const newer = await context.newPage();
  await newer.goto(`${network.proxy.url}/healthz`);
  await newer.evaluate(
    (name) =>
      new Promise((resolve, reject) => {
        const request = indexedDB.open(name, 99);
        request.onsuccess = () => resolve(request.result.close());
        request.onerror = () => reject(request.error);
      }),
    `doorsill-${person}`,
  );
  await page.locator('.banner').filter({ hasText: 'This tab is out of date' }).waitFor();
  await field.blur();
  await page.getByText('Not saved. A newer version of Doorsill is open in another tab').waitFor();
  assert.equal(await field.inputValue(), 'Half typed when the other tab was opened');

  // The old version cannot read what the newer one made of it, and says so.
  await page.reload();
  await page.getByLabel('Name', { exact: true }).fill('marit');
  await page.getByLabel('Password', { exact: true }).fill('over the door sill');
  await page.getByRole('button', { name: 'Sign in' }).click();
  await page.getByText('A newer version of Doorsill has used this tablet').waitFor();
  assert.deepEqual(problems, []);
  await context.close();
});

test('fault 20: an old tab holds the records back from a newer version', async () => {
  const { page, context, problems } = await network.tablet();
  const answer = await page.request.post(`${network.server.url}/api/v1/session`, {
    data: { name: 'marit', password: 'over the door sill' },
  });
  const person = (await answer.json()).person.id;
  const old = await context.newPage();
  await old.goto(`${network.proxy.url}/healthz`);
  await old.evaluate(
    (name) =>
      new Promise((resolve) => {
        const request = indexedDB.open(name, 1);
        request.onupgradeneeded = () => {
          const db = request.result;
          const events = db.createObjectStore('events', { keyPath: 'key' });
          events.createIndex('subject', 'subject');
          events.createIndex('own', 'own', { unique: true });
          db.createObjectStore('subjects', { keyPath: 'key' }).createIndex('stale', 'stale');
          for (const store of ['results', 'checklists', 'meta']) db.createObjectStore(store, { keyPath: 'key' });
        };
        request.onsuccess = () => resolve(undefined);
      }),
    `doorsill-${person}`,
  );
  await page.goto(network.proxy.url);
  await page.getByLabel('Name', { exact: true }).fill('marit');
  await page.getByLabel('Password', { exact: true }).fill('over the door sill');
  await page.getByRole('button', { name: 'Sign in' }).click();
  await page.locator('.banner').filter({ hasText: 'The records are held by another tab' }).waitFor();
  await old.close();
  await page.getByRole('button', { name: 'I have read this' }).click();
  await page.getByRole('link', { name: client }).waitFor();
  assert.equal(await page.locator('.banner').filter({ hasText: 'held by another tab' }).count(), 0);
  assert.deepEqual(problems, []);
  await context.close();
});

/** The first clients as the first screen lists them, but for what the server has been sent and has confirmed meanwhile. @param {Page} page */
async function listOf(page) {
  await page.getByRole('link', { name: client }).waitFor();
  const rows = await page.locator('main a[href^="/clients/"]').allInnerTexts();
  return rows.slice(0, 6).map((text) => text.replace(/On this tablet only|Waiting to be sent|Sent|provisional\n?/g, '').trim());
}

/** Counts the records that are marked to be folded anew, and marks them all when asked. @param {Page} page @param {string} person @param {boolean} mark @returns {Promise<number>} */
const foldAnew = (page, person, mark) =>
  page.evaluate(
    ([name, all]) =>
      new Promise((resolve, reject) => {
        const asked = indexedDB.open(String(name));
        asked.onerror = () => reject(asked.error);
        asked.onsuccess = () => {
          const tx = asked.result.transaction('subjects', 'readwrite');
          const store = tx.objectStore('subjects');
          if (all)
            store.getAll().onsuccess = (event) => {
              for (const row of /** @type {any} */ (event.target).result) store.put({ ...row, stale: 1 });
            };
          tx.oncomplete = () => {
            const again = asked.result.transaction('subjects').objectStore('subjects').index('stale').count();
            again.onsuccess = () => {
              asked.result.close();
              resolve(again.result);
            };
          };
        };
      }),
    /** @type {const} */ ([`doorsill-${person}`, mark]),
  );

test('fault 25: a new version arrives while something is half typed', async () => {
  const { page: one, context, problems } = await network.tablet();
  await network.atVisit(one);
  await keptOffline(one);
  const two = await context.newPage();
  await network.atVisit(two);
  for (const page of [one, two]) {
    await follow(page, 'Visit notes');
    await page.getByLabel('The story so far').fill('Half typed');
    await page.evaluate(() => {
      Object.assign(globalThis, { same: true });
    });
  }
  let rest = () => {};
  const busy = new Promise((resolve) => {
    network.proxy.rule = async (ask) => {
      if (ask.path === '/asked-by-hand') {
        resolve(undefined);
        await new Promise((done) => {
          rest = () => done(undefined);
        });
      }
      return newerBuild(ask);
    };
  });
  await one.evaluate(async () => {
    const registration = await navigator.serviceWorker.ready;
    await registration.update();
    await new Promise((resolve) => {
      const look = () => (registration.waiting ? resolve(undefined) : registration.installing?.addEventListener('statechange', look));
      look();
    });
  });
  const offer = 'A new version is ready';
  assert.equal(
    await one.locator('.banner').filter({ hasText: offer }).count(),
    0,
    'nothing is offered where a reload would lose something',
  );
  assert.equal(await one.getByLabel('The story so far').inputValue(), 'Half typed');

  // One tab takes it, from a screen where nothing can be lost; the other keeps what is typed.
  await one.getByLabel('The story so far').blur();
  await one.getByText('Saved on this tablet: The story so far').waitFor();
  await one.getByRole('link', { name: 'Today', exact: true }).click();
  // The server's results come after the clients.
  await one.waitForFunction(
    (names) =>
      names.every((name) =>
        [...document.querySelectorAll('main a[href^="/clients/"]')].some(
          (row) => row.textContent?.includes(name) && row.textContent.includes('(door'),
        ),
      ),
    [client, 'Heath Ellery', 'Alder Finchley', 'Bracken Odell', 'Fern Castellan'],
  );
  const today = await listOf(one);
  // While the worker of before is busy the new one waits, which is said.
  await two.evaluate(() => void fetch('/asked-by-hand'));
  await busy;
  await one.locator('.banner').filter({ hasText: offer }).getByRole('button', { name: 'Update now' }).click();
  await one.getByRole('button', { name: 'Updating…' }).waitFor();
  rest();
  await one.getByLabel('Password', { exact: true }).waitFor();

  // The new version folds all that lies here again, and shows the same.
  const person = await personId(one, network.server.url);
  const many = await foldAnew(one, person, true);
  assert.ok(many > 10);
  await signIn(one, `${network.proxy.url}/`, 'marit');
  // What the list does not show is folded behind it.
  const end = Date.now() + 60_000;
  while ((await foldAnew(one, person, false)) > 0) assert.ok(Date.now() < end, 'everything is folded again');
  await comesTo(() => listOf(one), today);
  assert.ok(
    (await one.evaluate(() => caches.keys())).some((name) => name.endsWith('0123456789abcdef')),
    'by the new version',
  );
  await two.locator('.banner').filter({ hasText: 'A new version has taken over' }).waitFor();
  assert.equal(await two.evaluate(() => 'same' in globalThis), true, 'the other tab was not reloaded');
  const field = two.getByLabel('The story so far');
  assert.equal(await field.inputValue(), 'Half typed');
  await field.fill('Typed to its end');
  await field.blur();
  await two.getByText('Saved on this tablet: The story so far').waitFor();
  await two.locator('.banner').getByRole('button', { name: 'Reload' }).click();
  await two.getByLabel('Password', { exact: true }).waitFor();
  await signIn(two, two.url(), 'marit');
  await two.getByRole('heading', { level: 1, name: 'Visit notes' }).waitFor();
  assert.equal(await two.getByLabel('The story so far').inputValue(), 'Typed to its end');
  assert.deepEqual(problems, []);
  await context.close();
});

test('fault 26: an app and a server of different age', async () => {
  const { page, context, problems } = await network.tablet();
  await network.atVisit(page);
  const visit = visitId(page);
  const person = await personId(page, network.server.url);

  // A newer app on another tablet says things that neither this app nor this server knows.
  const cookies = await context.cookies();
  const made = await page.request.post(`${network.server.url}/api/v1/tablets`, { data: { label: 'newer' } });
  assert.equal(made.status(), 201);
  const { id: other } = await made.json();
  const lines = [
    ['dream-noted', 1, { dream: 'of a wider door' }],
    ['visit-noted', 9, { fields: { note: 'in a newer shape' } }],
  ].map(([kind, schema, body], at) =>
    JSON.stringify({
      tablet: other,
      n: at + 1,
      kind,
      subject: visit,
      author: person,
      at: new Date().toISOString(),
      zone: 'Etc/UTC',
      schema,
      seen: 0,
      body,
    }),
  );
  const text = lines.map((line) => `${line}\n`).join('');
  const { createHash } = await import('node:crypto');
  const head = JSON.stringify({
    log: '',
    tablet: other,
    from: 1,
    count: lines.length,
    sha256: createHash('sha256').update(text).digest('hex'),
  });
  const pushed = await page.request.post(`${network.server.url}/api/v1/events`, {
    headers: { 'Content-Type': 'application/x-ndjson' },
    data: `${head}\n${text}`,
  });
  const said = await pushed.json();
  assert.deepEqual(
    said.verdicts.map((/** @type {any} */ one) => one.verdict),
    ['quarantined', 'quarantined'],
    'the older server sets aside what it does not know, until it can check it',
  );
  await context.addCookies(cookies);

  // From a newer server, such as one that was put back, they come with a position. The older app takes both in, works on,
  // and says what to do. The server lacks newer routes.
  const later = lines.map((line, i) => ({ pos: 1000 + i, received: new Date().toISOString(), raw: JSON.parse(line) }));
  const change = (/** @type {string} */ body) => {
    const answer = JSON.parse(body);
    return JSON.stringify({ ...answer, events: [...answer.events, ...later] });
  };
  network.proxy.rule = ({ method, path }) => {
    if (/\/(holding|quarantine|people)/.test(path)) return refuse(404, 'not-found');
    return method === 'GET' && path.includes('/events') ? { kind: 'pass', change } : { kind: 'pass' };
  };
  await page.reload();
  await signIn(page, page.url(), 'marit');
  await pick(page, part, item, '2');
  await thisTablet(page);
  const update = page.locator('.banner').filter({ hasText: 'Update the app' });
  await update.getByText('2 entries on this tablet come from a newer version').waitFor();
  await page.goBack();
  network.proxy.rule = pass;
  await sendAll(page);

  // After a restart it is still said.
  await page.reload();
  await signIn(page, page.url(), 'marit');
  await update.getByText('2 entries on this tablet come from a newer version').waitFor();
  const kept = await visitOnServer(page, visit);
  assert.equal(kept.unknown, 0);
  assert.deepEqual(problems, []);
  await context.close();
});

test('a tab that is stuck keeps another waiting: that is said, and what was entered is saved when it is closed', async () => {
  const { page, context, problems } = await network.tablet();
  await network.atVisit(page);
  const person = await personId(page, network.server.url);
  await tile(page, part);
  const stuck = await context.newPage();
  await stuck.goto(`${network.proxy.url}/healthz`);
  await stuck.evaluate(
    (name) =>
      new Promise((resolve) => {
        void navigator.locks.request(name, () => new Promise(() => resolve(undefined)));
      }),
    `doorsill-write-${person}`,
  );
  const debug = await context.newCDPSession(stuck);
  await debug.send('Page.setWebLifecycleState', { state: 'frozen' });
  await touch(page, item, '1');
  await itemCard(page, item).getByText('Saving…').waitFor();
  await page.locator('.banner').filter({ hasText: 'The records are held by another tab' }).waitFor();
  await stuck.close();
  await itemCard(page, item).getByText('Saved on this tablet').waitFor();
  await page.locator('.banner').filter({ hasText: 'The records are held by another tab' }).waitFor({ state: 'detached' });
  assert.deepEqual(problems, []);
  await context.close();
});

test('two tabs that type into one field keep the words of both, and say so', async () => {
  const { page: one, context, problems } = await network.tablet();
  const two = await context.newPage();
  const field = (/** @type {Page} */ page) => page.getByRole('textbox', { name: 'Risks talked through' });
  for (const page of [one, two]) {
    await network.atVisit(page);
    await tile(page, 'Visit notes');
    await field(page).waitFor();
    await staysInField(page);
  }
  await field(one).fill('edge of the terrace');
  await comesTo(() => field(two).inputValue(), 'edge of the terrace');
  await field(two).fill('steps at the back');
  const apart = (/** @type {Page} */ page) => page.locator('.banner').filter({ hasText: 'Typed in two tabs' });
  await apart(one).getByText('“steps at the back”').waitFor();
  await apart(two).getByText('“edge of the terrace”').waitFor();
  assert.equal(await field(one).inputValue(), 'edge of the terrace', 'nothing changes under the hands of its writer');
  await apart(one).getByRole('button', { name: 'Change to the other: Risks talked through' }).click();
  assert.equal(await field(one).inputValue(), 'steps at the back');
  await apart(one).getByText('“edge of the terrace”').waitFor();
  assert.deepEqual(problems, []);
  await context.close();
});
