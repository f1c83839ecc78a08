// @ts-check
// Clocks that are wrong, and clocks that are put right in the middle.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { closeAll, openBrowser, remove, scratch, startServer } from './house.mjs';
import { pass, startProxy } from './fault.mjs';
import { itemCard, openVisit, pick, sendAll, signIn, touch } from './hand.mjs';

/** @type {Awaited<ReturnType<typeof startServer>>} */
let server;
/** @type {import('./fault.mjs').Proxy} */
let proxy;
/** @type {string} */
let profile;

before(async () => {
  server = await startServer();
  proxy = await startProxy(server.url);
  profile = await scratch('clock');
});
after(async () => {
  await closeAll();
  await proxy.stop();
  await server.stop();
  await Promise.all([server.data, profile].map(remove));
});

/** Runs in the page first: a clock that can be set while everything else goes on. */
function settableClock() {
  const Real = Date;
  let ahead = 0;
  globalThis.Date = /** @type {DateConstructor} */ (class extends Real {
    /** @param {any[]} given */
    constructor(...given) {
      // @ts-expect-error passed on as they came
      super(...(given.length === 0 ? [Real.now() + ahead] : given));
    }
    static now() { return Real.now() + ahead; }
  });
  Object.assign(globalThis, { setAhead: (/** @type {number} */ ms) => { ahead = ms; } });
}

const DAY = 86_400_000;

test('fault 22: a clock ten years on, then a day back, then right', async () => {
  const { page, context, problems } = await openBrowser(profile);
  await page.addInitScript(settableClock);
  const setAhead = (/** @type {number} */ ms) => page.evaluate((by) => /** @type {any} */ (globalThis).setAhead(by), ms);
  await signIn(page, proxy.url, 'marit');
  await page.getByRole('link', { name: 'Thistle Mare' }).waitFor();
  await openVisit(page, 'Thistle Mare');
  const visit = new URL(page.url()).pathname.split('/')[2] ?? '';

  // No network; the clock jumps between two answers to one item.
  proxy.rule = ({ path }) => (path.startsWith('/api/') ? { kind: 'cut' } : { kind: 'pass' });
  await setAhead(3653 * DAY);
  await pick(page, 'Switches and mounting', 'On and off', '4');
  await setAhead(-DAY);
  await touch(page, 'On and off', '1');
  await itemCard(page, 'On and off').locator('.saved').filter({ hasText: 'Saved on this tablet' }).waitFor();
  await itemCard(page, 'On and off').locator('input[value="1"]:checked').waitFor();

  // The oldest entry lies in the future: nobody knows since when, so it is said.
  await page.locator('.red-line').getByText('only on this tablet since a time when its clock was off').waitFor();

  // The server answers: the difference is shown with what it does; the last word stands.
  proxy.rule = pass;
  await sendAll(page);
  await page.locator('.banner').filter({ hasText: 'This tablet’s clock is 24 hours behind' }).waitFor();
  const answer = await (await page.request.get(`${server.url}/api/v1/visits/${visit}`)).json();
  const given = answer.visit.answers.find((/** @type {{ item: string }} */ one) => one.item === 'mnt-power');
  assert.deepEqual(given.heads.map((/** @type {{ level: string }} */ head) => head.level), ['1']);

  // The session lives on, and a clock that is right again is no longer mentioned.
  await setAhead(3653 * DAY);
  await page.getByRole('button', { name: 'Send and fetch now' }).click();
  await page.locator('.banner').filter({ hasText: 'This tablet’s clock is 10 years ahead' }).waitFor();
  await setAhead(0);
  await page.getByRole('button', { name: 'Send and fetch now' }).and(page.locator(':enabled')).click();
  await page.locator('.banner').filter({ hasText: 'This tablet’s clock' }).waitFor({ state: 'detached' });
  await page.goBack();
  await itemCard(page, 'On and off').locator('input[value="1"]:checked').waitFor();
  assert.deepEqual(problems, []);
  await context.close();
});
