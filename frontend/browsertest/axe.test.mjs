// @ts-check
// Axe looks at every screen in the three sizes; so do two checks of our own:
// nothing to touch is smaller than 44 px, and no screen scrolls sideways.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { test } from 'node:test';
import { named, openBrowser, sizes, useServer } from './setup.mjs';
import { joinOrganisation } from './organisation.mjs';
import { clinicianPlaces, officePlaces, organisationPlaces } from './screen-list.mjs';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

const service = useServer();

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

/** @param {readonly import('./screen-list.mjs').Place[]} places */
async function look(places) {
  const { context, page, problems } = await openBrowser(await service.profile());
  // A colour on its way to another is no colour that anybody reads.
  await page.emulateMedia({ reducedMotion: 'reduce' });
  const found = /** @type {string[]} */ ([]);
  for (const place of places) {
    await place.go(page);
    // The page's own policy forbids foreign scripts, so the debugger brings it.
    await page.evaluate(axe);
    for (const [size, box] of Object.entries(sizes)) {
      await page.setViewportSize(box);
      await settled(page);
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      const lines = [...(await serious(page)), ...(await small(page)), ...(wide > 0 ? [`scrolls sideways by ${wide} px`] : [])];
      found.push(...lines.map((line) => `${place.name}, ${size}: ${line}`));
    }
    await page.setViewportSize(sizes.tablet);
  }
  await context.close();
  assert.deepEqual([...found, ...problems], []);
}

test('axe finds nothing serious on a clinician’s screens', () => look(clinicianPlaces(named(service.server.url))));
test('axe finds nothing serious on a lead’s and an administrator’s screens', () => look(officePlaces(service.server.url)));
test('axe finds nothing serious on the ways in by the organisation', async () => {
  const { url, server, stop } = await joinOrganisation(service.server);
  service.server = server;
  service.ends.push(stop);
  await look(organisationPlaces(url));
});
