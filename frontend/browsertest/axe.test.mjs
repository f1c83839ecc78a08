// @ts-check
// Axe looks at every screen in the three sizes; so do two checks of our own:
// nothing to touch is smaller than 44 px, and no screen scrolls sideways.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { named, openBrowser, sizes, useServer } from './setup.mjs';
import { troubles } from './looking.mjs';
import { joinOrganisation } from './organisation.mjs';
import { clinicianPlaces, officePlaces, organisationPlaces } from './screen-list.mjs';

const service = useServer();

/** @param {readonly import('./screen-list.mjs').Place[]} places */
async function look(places) {
  const { context, page, problems } = await openBrowser(await service.profile());
  // A colour on its way to another is no colour that anybody reads.
  await page.emulateMedia({ reducedMotion: 'reduce' });
  const found = /** @type {string[]} */ ([]);
  for (const place of places) {
    await place.go(page);
    for (const [size, box] of Object.entries(sizes)) {
      await page.setViewportSize(box);
      found.push(...(await troubles(page)).map((line) => `${place.name}, ${size}: ${line}`));
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
