// @ts-check
// Takes a picture of every screen at the three sizes into .cache/screens, to be
// looked at by a person.
import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { closeAll, named, openBrowser, remove, scratch, sizes, startServer } from './setup.mjs';
import { joinOrganisation } from './organisation.mjs';
import { clinicianPlaces, officePlaces, organisationPlaces } from './screen-list.mjs';

const into = join(import.meta.dirname, '..', '..', '.cache', 'screens');
await mkdir(into, { recursive: true });
const server = await startServer();
const profile = await scratch('screens');
/** @param {readonly import('./screen-list.mjs').Place[]} places */
async function take(places) {
  const { page, close } = await openBrowser(await scratch('screens'));
  for (const place of places) {
    try {
      await place.go(page);
    } catch (error) {
      console.error(`${place.name}: ${error}`);
      await page.screenshot({ path: join(into, `${place.name}-failed.png`) });
      continue;
    }
    for (const [size, box] of Object.entries(sizes)) {
      await page.setViewportSize(box);
      await page.screenshot({ path: join(into, `${place.name}-${size}.png`), fullPage: true });
    }
    await page.setViewportSize(sizes.tablet);
  }
  await close();
}
await take(clinicianPlaces(named(server.url)));
await take(officePlaces(server.url));
const organisation = await joinOrganisation(server);
await take(organisationPlaces(organisation.url));
await closeAll();
await organisation.stop();
await organisation.server.stop();
await remove(server.data);
await remove(profile);
console.log(`pictures of every screen are in ${into}`);
