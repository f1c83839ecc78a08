// @ts-check
// What is wrong with a page that anybody would trip over: axe's serious findings,
// what is too small to touch, and scrolling sideways.
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** @typedef {import('playwright-core').Page} Page */

/** What axe finds serious or critical. @param {Page} page @returns {Promise<string[]>} */
const serious = (page) =>
  page.evaluate(async () => {
    // @ts-expect-error axe is put on the page below.
    const { violations } = await window.axe.run(document, { resultTypes: ['violations'] });
    return violations
      .filter((/** @type {{ impact: string }} */ v) => v.impact === 'serious' || v.impact === 'critical')
      .map((/** @type {{ id: string, nodes: { html: string }[] }} */ v) => `${v.id}: ${v.nodes.map((n) => n.html).join(' ')}`);
  });

/** Waits until the page has drawn itself anew, which is when a table knows that it scrolls. @param {Page} page */
const settled = (page) =>
  page.evaluate(
    () =>
      new Promise((resolve) => {
        requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(() => resolve(undefined))));
      }),
  );

/** What is too small to touch. @param {Page} page @returns {Promise<string[]>} */
const small = (page) =>
  page.evaluate(() =>
    [...document.querySelectorAll('a[href], button, select, summary, input:not([type=radio]):not([type=checkbox]), label:has(input)')]
      .filter((one) => one.checkVisibility())
      .map((one) => ({ one, box: one.getBoundingClientRect() }))
      .filter(({ box }) => box.height > 0 && box.height < 43.5)
      .map(({ one, box }) => `${Math.round(box.height)} px: ${one.outerHTML.slice(0, 120)}`),
  );

/** Everything that is wrong with the page as it stands. @param {Page} page @returns {Promise<string[]>} */
export async function troubles(page) {
  // The page's own policy forbids foreign scripts, so the debugger brings it.
  await page.evaluate(axe);
  await settled(page);
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  return [...(await serious(page)), ...(await small(page)), ...(wide > 0 ? [`scrolls sideways by ${wide} px`] : [])];
}
