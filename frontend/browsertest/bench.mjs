// @ts-check
// Times what a therapist waits for without a network: the first paint of a cold
// start, from there to the level of an open visit, a tap until the answer is on
// the disk, and a tap until what it changes in the result is in sight; all but the
// second with the processor slowed down four times. Prints minimum, median, 95th
// percentile and maximum. Compare figures of one run only.
import { closeAll, openBrowser, remove, scratch, startServer } from './setup.mjs';
import { follow, keptOffline, signIn, tile } from './actions.mjs';

const starts = Number(process.env.STARTS ?? 7);
const taps = Number(process.env.TAPS ?? 40);

/** @param {import('playwright-core').Page} page */
async function slow(page) {
  const debug = await page.context().newCDPSession(page);
  await debug.send('Emulation.setCPUThrottlingRate', { rate: 4 });
}

/** @param {string} name @param {number[]} values */
function print(name, values) {
  const sorted = [...values].sort((a, b) => a - b);
  const at = (/** @type {number} */ share) => (sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? NaN).toFixed(1);
  console.log(`${name.padEnd(44)} n ${sorted.length}  min ${at(0)}  median ${at(0.5)}  p95 ${at(0.95)}  max ${at(1)} ms`);
}

const server = await startServer();
const profile = await scratch('bench');
let tablet = await openBrowser(profile);
await signIn(tablet.page, server.url, 'marit');
await tablet.page.getByRole('link', { name: 'Heath Ellery' }).waitFor();
await keptOffline(tablet.page);
await follow(tablet.page, 'Heath Ellery');
await follow(tablet.page, 'Go on with the open visit');
await tablet.page.locator('.rail-level').click();
await tablet.page.locator('.level-page').waitFor();
const level = tablet.page.url();
await tablet.close();
await server.stop();

const paints = [];
for (let n = 0; n < starts; n++) {
  tablet = await openBrowser(profile);
  await slow(tablet.page);
  await tablet.page.goto(server.url);
  await tablet.page.getByRole('heading', { level: 1, name: 'Sign in' }).waitFor();
  paints.push(await tablet.page.evaluate(() => performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? NaN));
  await tablet.close();
}
print('offline cold start to first paint, 4x', paints);

const levels = [];
for (let n = 0; n < starts; n++) {
  tablet = await openBrowser(profile);
  const begun = performance.now();
  await signIn(tablet.page, level, 'marit');
  await tablet.page.locator('.level-page').waitFor();
  levels.push(performance.now() - begun);
  await tablet.close();
}
print('offline cold start to the level, signing in', levels);

tablet = await openBrowser(profile);
const { page } = tablet;
await signIn(page, server.url, 'marit');
await follow(page, 'Heath Ellery');
await follow(page, 'Go on with the open visit');
await tile(page, 'Equipment and charging');
await slow(page);
const card = page.locator('.item-card').first();
const durable = [];
for (let n = 0; n < taps; n++) {
  durable.push(
    await card.evaluate(
      (element, odd) =>
        new Promise((resolve) => {
          const row = /** @type {HTMLElement} */ (element.querySelectorAll('.choice-rows label')[odd]);
          const start = performance.now();
          const watch = new MutationObserver(() => {
            if (!/Saved on this tablet/.test(element.querySelector('.saved')?.textContent ?? '')) return;
            watch.disconnect();
            resolve(performance.now() - start);
          });
          row.click();
          watch.observe(element, { subtree: true, childList: true, characterData: true });
        }),
      n % 2,
    ),
  );
}
print('tap to "saved on this tablet" in sight, 4x', durable);

// An answer more or less changes how much the result says is missing.
const scored = [];
const missing = page.locator('.rail-missing');
const answer = card.locator('.choice-rows label').first();
const none = card.getByRole('button', { name: /^Back to not tested/ });
await card.getByRole('button', { name: /^More about/ }).click();
for (let n = 0; n < taps; n++) {
  for (const button of [none, answer]) {
    await button.waitFor();
    scored.push(
      await missing.evaluate(
        (element, tap) =>
          new Promise((resolve) => {
            const before = element.textContent;
            const start = performance.now();
            const watch = new MutationObserver(() => {
              if (element.textContent === before) return;
              watch.disconnect();
              resolve(performance.now() - start);
            });
            watch.observe(element, { subtree: true, childList: true, characterData: true });
            /** @type {HTMLElement} */ (tap).click();
          }),
        await button.elementHandle(),
      ),
    );
  }
}
print('tap to the result in sight, 4x', scored);
await closeAll();
await Promise.all([remove(server.data), remove(profile)]);
