// @ts-check
// The hands of the people in the stories: what they touch, in their words.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { isDeepStrictEqual } from 'node:util';
import { password } from './setup.mjs';

/** @typedef {import('playwright-core').Page} Page */

const standard = new URL('../../internal/checklist/authoring/standard.json', import.meta.url);

/** How many items the standard checklist has. */
export const itemsOfStandard = JSON.parse(readFileSync(standard, 'utf8')).sections.flatMap(
  (/** @type {{ items: unknown[] }} */ section) => section.items,
).length;

/**
 * Signs in and reads the cautions when the tablet is new.
 * @param {Page} page @param {string} url @param {string} name
 */
export async function signIn(page, url, name) {
  await page.goto(url);
  await page.getByLabel('Name', { exact: true }).fill(name);
  await page.getByLabel('Password', { exact: true }).fill(password);
  await page.getByRole('button', { name: 'Sign in', exact: true }).click();
  const read = page.getByRole('button', { name: 'I have read this' });
  const inside = page.getByRole('banner');
  await read.or(inside).first().waitFor();
  if (await read.isVisible()) await read.click();
  await inside.waitFor();
}

/**
 * A lead takes the team's clients onto the device, so that it works without a network.
 * @param {Page} page
 */
export async function pack(page) {
  await page.getByRole('button', { name: /^Take the clients of .+ onto this device$/ }).click();
}

/**
 * Waits until the whole app is on the tablet, so that it starts with no network.
 * @param {Page} page
 */
export async function keptOffline(page) {
  await page.waitForFunction(async () => (await navigator.serviceWorker.ready).active?.state === 'activated');
}

/**
 * Goes to an address within the app without loading the page anew.
 * @param {Page} page @param {string | RegExp} name
 */
export async function follow(page, name) {
  await page.getByRole('link', { name }).first().click();
}

/** Numbers for the items that have one; all in the best band, which else is the most. */
const numbers = {
  'ctl-pain': '0',
  'mnt-clear': '8',
  'ind-straight': '0',
  'hom-door': '120',
  'hom-sill': '10',
  'hom-ramp': '14',
  'eqp-battery': '60',
};

/**
 * Reads until it is as wanted, and shows the difference when that does not come.
 * @param {() => Promise<unknown>} read @param {unknown} want @param {string} [why]
 */
export async function comesTo(read, want, why) {
  const end = Date.now() + 20_000;
  let got = await read();
  while (!isDeepStrictEqual(got, want) && Date.now() < end) got = await read();
  assert.deepEqual(got, want, why);
}

/** Waits until a card says that its entry is on the tablet. @param {import('playwright-core').Locator} card */
const saved = (card) => card.locator('.saved').filter({ hasText: 'Saved on this tablet' }).waitFor();

/**
 * Answers every open item of the part that is shown, as a good day would.
 * @param {Page} page
 * @returns {Promise<number>} how many items the part has
 */
export async function answerPart(page) {
  const cards = page.locator('.item-card');
  await cards.first().waitFor();
  const count = await cards.count();
  for (let at = 0; at < count; at++) await answerCard(cards.nth(at));
  return count;
}

/** @param {import('playwright-core').Locator} card */
async function answerCard(card) {
  const rows = card.locator('.levels');
  const number = card.locator('.number-body input');
  const counts = card.locator('.segments:not(.facts *)');
  const id = /** @type {keyof typeof numbers} */ (await card.getAttribute('id'));
  if (await rows.count()) {
    await rows.first().locator('label').first().click();
    await saved(card);
  } else if (await number.count()) {
    await number.fill(numbers[id] ?? '0');
    await card.locator('.number-body button[type=submit]').click();
    await saved(card);
  } else if (await counts.count()) {
    for (let side = 0; side < (await counts.count()); side++) {
      const labels = counts.nth(side).locator('label');
      await (
        numbers[id] === undefined ? labels.last() : labels.filter({ has: card.page().locator(`input[value="${numbers[id]}"]`) })
      ).click();
    }
    await saved(card);
  }
  for (const ask of await card.locator('.facts fieldset').all()) {
    await ask.getByText('No', { exact: true }).click();
    await saved(card);
  }
}

/**
 * Takes readings on a measuring screen: `values` by direction, in order.
 * @param {Page} page @param {readonly (readonly [string, readonly string[]])[]} values
 */
export async function measure(page, values) {
  for (const [direction, list] of values) {
    if (direction !== '')
      await page
        .locator('.rose-way, .cross-arm')
        .filter({ hasText: new RegExp(`^${direction}`, 'i') })
        .click();
    for (const value of list) {
      await page.locator('.pad-input').fill(value);
      await page.locator('.pad-done').click();
      const ask = page.getByRole('group', { name: 'Is that right?' });
      await page
        .locator('.saved')
        .filter({ hasText: `${value} ` })
        .or(ask)
        .first()
        .waitFor();
      assert.equal(await ask.isVisible(), false, `${value} was asked back`);
    }
  }
}

/** @param {Page} page @param {'Rested' | 'Tired'} state */
export const setState = (page, state) => page.locator('.place-toggles label').filter({ hasText: state }).click();

/** Opens a part of the visit from its map, or from the rail that stands for it where there is room. @param {Page} page @param {string} title */
export async function tile(page, title) {
  await page
    .locator('.tile, .rail-part')
    .filter({ has: page.getByText(title, { exact: true }), visible: true })
    .click();
  await page.getByRole('heading', { level: 1, name: 'Visit map' }).waitFor({ state: 'detached' });
}

/** @param {Page} page */
export async function backToMap(page) {
  await page.getByRole('link', { name: 'Visit map' }).last().click();
  await page.getByRole('heading', { level: 1, name: 'Visit map' }).waitFor();
}

/**
 * Times by the giant button: touch, wait until the clock has moved, touch.
 * @param {Page} page @param {number} times
 */
export async function touchTimer(page, times) {
  const button = page.locator('.giant-button');
  const list = page.locator('.readings li');
  for (let n = 1; n <= times; n++) {
    await button.click();
    await page.waitForFunction(() => Number(document.querySelector('.giant-time')?.textContent?.split(':').at(-1)) >= 0.3);
    await button.click();
    await page.waitForFunction((want) => document.querySelectorAll('.readings li').length >= want, n);
  }
  assert.ok((await list.count()) >= times);
}

/** Readings of somebody with force to spare, rested. @type {readonly (readonly [string, readonly string[]])[]} */
export const restedForce = [
  ['forward', ['980', '1000', '1020']],
  ['reverse', ['900', '910', '905']],
  ['left', ['950', '940', '960']],
  ['right', ['890', '900', '880']],
];
/** @type {typeof restedForce} */
export const travel = [
  ['forward', ['40']],
  ['reverse', ['38']],
  ['left', ['39']],
  ['right', ['37']],
];

/** Takes readings on a measuring screen, and comes back to the map. @param {Page} page @param {string} screen @param {typeof restedForce} values */
export async function readings(page, screen, values) {
  await tile(page, screen);
  await measure(page, values);
  await backToMap(page);
}

/** Times on a measuring screen, and comes back to the map. @param {Page} page @param {string} screen @param {number} times */
export async function timings(page, screen, times) {
  await tile(page, screen);
  await touchTimer(page, times);
  await backToMap(page);
}

/** Leaves the field, and waits until what stands in its form is saved. @param {Page} page @param {string} what */
export async function savedByItself(page, what) {
  await page.getByRole('heading', { level: 1 }).click();
  await page.getByText(`Saved on this tablet: ${what}`).waitFor();
  await page.locator('.draft-line').waitFor({ state: 'detached' });
}

/** Signs, also over what stays open. @param {Page} page */
export async function sign(page) {
  await page.getByRole('button', { name: 'Sign this visit' }).click();
  const [ask, done] = [page.getByRole('button', { name: 'Sign all the same' }), page.getByRole('heading', { name: 'Amendments' })];
  await ask
    .or(done)
    .first()
    .waitFor()
    .catch(async () => assert.fail(`not signed:\n${await page.locator('main').innerText()}`));
  if (await ask.isVisible()) await ask.click();
  await done.waitFor();
}

/** Somebody stands in a field still: what happens in another tab does not end that. @param {Page} page */
export const staysInField = (page) =>
  page.evaluate(() => {
    for (const kind of ['blur', 'focusout', 'change'])
      window.addEventListener(kind, (event) => event.stopImmediatePropagation(), { capture: true });
  });

/** Starts a visit in gram-force; returns its id. @param {Page} page @param {string} client */
export async function startVisit(page, client) {
  await follow(page, client);
  await follow(page, 'Start a visit');
  await page.getByText('gf', { exact: true }).click();
  await page.getByRole('button', { name: 'Start the visit' }).click();
  await page.getByRole('heading', { level: 1, name: 'Visit map' }).waitFor();
  return new URL(page.url()).pathname.split('/').at(-1) ?? '';
}

/**
 * A standard control at the right hand, with the forces that it asks.
 * @param {Page} page @param {readonly (readonly [RegExp, string])[]} asked
 */
export async function controlAndPlace(page, asked) {
  await tile(page, 'Control and place');
  const kind = page.getByText(/^Standard/).first();
  await page.locator('.setup-kinds').waitFor({ state: 'attached' });
  if (!(await kind.isVisible())) await page.getByText('A control that is not of the kit').click();
  await kind.click();
  await page.getByText('Full list of sites').click();
  await page.getByRole('group', { name: 'All sites' }).getByText('right hand', { exact: true }).click();
  for (const [label, force] of asked) await page.getByLabel(label).fill(force);
  await savedByItself(page, 'control and place');
  await backToMap(page);
}

/**
 * One run of the driving trial: ten minutes on the clock, no contact.
 * @param {Page} page @param {string} where @param {string} state @param {string} metres
 */
export async function drive(page, where, state, metres) {
  await page.locator('.trial-conditions').getByText(where, { exact: true }).click();
  await page.locator('.trial-conditions').getByText(state, { exact: true }).click();
  for (let minute = 0; minute < 10; minute++) await page.getByRole('button', { name: '+ 1 min' }).click();
  await page.getByLabel('Metres driven').fill(metres);
  await page.getByRole('button', { name: 'Save this run' }).click();
  await page
    .locator('.saved')
    .filter({ hasText: `${metres} m` })
    .waitFor();
}

/**
 * Waits until every item of every part is answered or computed; says what is
 * missing when that does not come.
 * @param {Page} page @param {number} parts
 */
export async function complete(page, parts) {
  const done = (/** @type {number} */ want) =>
    [...document.querySelectorAll('.rail-part')].slice(0, want).every((one) => one.textContent?.includes('all answered'));
  try {
    await page.waitForFunction(done, parts, { timeout: 5_000 });
  } catch {
    await page.getByText('What is missing').first().click();
    await page.getByRole('heading', { level: 1, name: 'What is missing' }).waitFor();
    assert.fail(`not everything is answered:\n${await page.locator('main').innerText()}`);
  }
}

/**
 * Opens a part of the visit from its map and answers one item with a level.
 * @param {Page} page @param {string} part @param {string} item @param {string} level
 */
export async function pick(page, part, item, level) {
  await tile(page, part);
  const card = page.getByRole('article').filter({ has: page.getByRole('heading', { name: item, exact: true }) });
  await card
    .locator('label')
    .filter({ has: page.locator(`input[value="${level}"]`) })
    .click();
  await saved(card);
}

/** Sends and fetches by the button, waits until both are done, and goes back. @param {Page} page */
export async function syncNow(page) {
  await page.locator('.top-sync').click();
  const button = page.getByRole('button', { name: 'Send and fetch now' });
  await button.waitFor();
  const fetched = page.waitForResponse((answer) => /\/teams\/[^/]+\/events/.test(answer.url()) && answer.ok());
  await button.click();
  await fetched;
  await button.waitFor();
  await page.getByText('0 entries', { exact: true }).waitFor();
  await page.goBack();
}

/**
 * Opens the visit map of a client whose visit is under way.
 * @param {Page} page @param {string} client
 */
export async function openVisit(page, client) {
  await follow(page, client);
  await follow(page, 'Go on with the open visit');
  await page.getByRole('heading', { level: 1, name: 'Visit map' }).waitFor();
}

/** The card of an item on the part that is shown. @param {Page} page @param {string} item */
export const itemCard = (page, item) => page.getByRole('article').filter({ has: page.getByRole('heading', { name: item, exact: true }) });

/** Touches a level of an item, and does not wait for what comes of it. @param {Page} page @param {string} item @param {string} level */
export const touch = (page, item, level) =>
  itemCard(page, item)
    .locator('label')
    .filter({ has: page.locator(`input[value="${level}"]`) })
    .click();

/** Locks the tablet; within a visit that is part of a break. @param {Page} page */
export async function lockTablet(page) {
  const lock = page.getByRole('button', { name: 'Lock', exact: true });
  const pause = page.getByRole('button', { name: 'Take a break' });
  await lock.or(pause).waitFor();
  if (await lock.isVisible()) return lock.click();
  await pause.click();
  await page.getByRole('button', { name: 'Lock the tablet' }).click();
}

/** Opens the screen that says how this tablet stands. @param {Page} page */
export async function thisTablet(page) {
  await page.locator('.top-sync').click();
  await page.getByRole('heading', { level: 1, name: 'This tablet' }).waitFor();
}

/** Presses the button until nothing waits any more, as somebody on a poor network would. @param {Page} page */
export async function sendAll(page) {
  await thisTablet(page);
  const [button, none] = [page.getByRole('button', { name: 'Send and fetch now' }), page.getByText('0 entries', { exact: true })];
  for (let tries = 0; tries < 20; tries++) {
    await button.or(none).first().waitFor({ timeout: 40_000 });
    if (await none.isVisible()) break;
    await button.click({ timeout: 40_000 });
    await button.waitFor({ timeout: 40_000 });
  }
  await none.waitFor().catch(async (cause) => {
    throw new Error(`entries wait still: ${await page.locator('body').innerText()}`, { cause });
  });
}

/**
 * Sets the page's clock while everything else goes on, and touches the page, as
 * somebody does who has just set it.
 * @param {Page} page @param {number} ahead milliseconds
 */
export const setClock = (page, ahead) =>
  page.evaluate((ms) => {
    const kept = /** @type {{ RealDate?: DateConstructor }} */ (globalThis);
    const Real = kept.RealDate ?? Date;
    kept.RealDate = Real;
    globalThis.Date = /** @type {DateConstructor} */ (
      class extends Real {
        /** @param {any[]} given */
        constructor(...given) {
          // @ts-expect-error passed on as they came
          super(...(given.length === 0 ? [Real.now() + ms] : given));
        }
        /** @override */
        static now() {
          return Real.now() + ms;
        }
      }
    );
    dispatchEvent(new Event('pointerdown'));
    document.dispatchEvent(new Event('visibilitychange'));
  }, ahead);

/**
 * Time goes by at once, by the tablet's clock and by the steady one of the page.
 * @param {Page} page @param {number} ahead milliseconds since the page was opened
 */
export const passTime = async (page, ahead) => {
  await page.evaluate((ms) => {
    const kept = /** @type {{ realNow?: () => number }} */ (globalThis);
    const real = kept.realNow ?? performance.now.bind(performance);
    kept.realNow = real;
    performance.now = () => real() + ms;
  }, ahead);
  await setClock(page, ahead);
};

/**
 * The rows of drafts on the disk whose keys begin so, encrypted as they are: another text once one was written anew.
 * @param {Page} page @param {string} [begin] @returns {Promise<string[]>}
 */
export const draftRows = (page, begin = '') =>
  page.evaluate(async (prefix) => {
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
            asked.onsuccess = () => resolve(asked.result);
          })),
        );
      db.close();
    }
    return found.filter(({ key }) => key.startsWith(prefix)).map(({ key, box }) => `${key} ${box.slice(0, 12).join()}`);
  }, begin);

/** How many drafts are on the disk. @param {Page} page @param {string} [begin] */
export const draftsKept = async (page, begin) => (await draftRows(page, begin)).length;
