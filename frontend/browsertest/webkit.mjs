// @ts-check
// The offline story in WebKit: sign in, the server goes, the page is opened
// anew, a visit is filled and measured, the server comes back and says the same.
// There is no storage manager, no background sync and no passkey here, so
// nothing may depend on them. Not run by "make test": WebKitGTK's driver is not
// on every machine.
import assert from 'node:assert/strict';
import { after, test } from 'node:test';
import { remove, scratch, startServer } from './setup.mjs';
import { button, heading, link, saved, signIn, tile } from './webkit-hands.mjs';
import { openSession, startDriver, until } from './webdriver.mjs';

/** Touches a row of a list of levels. @param {string} item @param {string} level */
const choice = (item, level) => `//article[.//*[self::h2 or self::h3][normalize-space()="${item}"]]//label[.//input[@value="${level}"]]`;

let server = await startServer();
const home = await scratch('webkit');
const driver = await startDriver(home);
after(async () => {
  await driver.stop();
  await server.stop();
  await Promise.all([remove(server.data), remove(home)]);
});

test('the offline story in WebKit', async () => {
  const page = await openSession(driver.base);
  console.log(`# ${page.version}`);
  await signIn(page, server.url);
  await page.type('//input[@type="search"]', 'Sedge');
  await page.see(link('Sedge Conway'), 60_000);
  await page.see('//main[not(contains(., "Taking the clients"))][not(contains(., "Asking the server"))]', 60_000);
  await until('the app is on the tablet', () => page.run('return navigator.serviceWorker.controller !== null'));
  const absent = await page.run(
    'return ["storage", "credentials"].filter((one) => !(one in navigator)).concat("SyncManager" in window ? [] : ["SyncManager"])',
  );
  console.log(`# not there: ${absent.join(', ') || 'nothing'}`);

  // No server, and a page that knows nothing any more. The driver's browser is
  // a private one, so a start from cold would find an empty disk.
  await server.stop();
  await page.go('about:blank');
  await signIn(page, server.url);
  await page.type('//input[@type="search"]', 'Sedge');
  await page.touch(link('Sedge Conway'));
  await page.touch(link('Start a visit'));
  await page.touch('//label[.//*[normalize-space()="gf"]]');
  await page.touch(button('Start the visit'));
  await page.see(heading('Visit map'));
  const map = await page.path();
  const visit = map.split('/').at(-1) ?? '';
  await page.touch(tile('Control and place'));
  // Beside the team's kit, which may still be on its way, the kinds are folded away.
  await until('the kinds of control', () =>
    page.run(
      'const all = [...document.querySelectorAll("summary")].find((one) => one.textContent.includes("not of the kit")); if (all && !all.parentElement.open) all.click(); return [...document.querySelectorAll("label")].some((one) => one.textContent.includes("Standard") && one.offsetParent !== null)',
    ),
  );
  await page.touch('(//label[contains(., "Standard")])[1]');
  await page.touch('//*[normalize-space()="Full list of sites"]');
  await page.touch('//fieldset[.//legend[normalize-space()="All sites"]]//label[contains(., "right hand")]');
  await page.type('//input[@id=//label[contains(., "starts the chair")]/@for]', '60');
  await page.touch('//h1');
  await page.see('//*[contains(., "Saved on this tablet: control and place")]');
  await page.touch(link('Visit map'));
  await page.touch(tile('Force'));
  for (const value of ['980', '1000', '1020']) {
    await page.type('//input[contains(@class, "pad-input")]', value);
    await page.touch('//button[contains(@class, "pad-done")]');
    await page.see(`//*[contains(@class, "saved")][contains(., "${value} ")]`);
  }
  await page.touch(link('Visit map'));
  await page.touch(tile('Switches and mounting'));
  await page.touch(choice('On and off', '4'));
  await page.see(saved);
  await page.touch(link('Visit map'));
  await page.touch(link('Level'));
  await page.see('//*[contains(translate(., "P", "p"), "provisional")]');
  assert.match(
    await page.text('(//*[contains(@class, "level-word")])[1]'),
    /^(No level yet|Pause|Practise|Accompanied|Home ground|Wider ground)/,
  );
  await page.run('history.back()');
  await page.touch(link('Sign'));
  await page.touch(button('Sign this visit'));
  await page.touch(button('Sign all the same'));
  await page.see('//h2[normalize-space()="Amendments"]');

  // The server is back: what was shown here is what it works out.
  server = await server.again();
  await page.touch('//a[contains(@class, "top-sync")]');
  await page.touch(button('Send and fetch now'));
  await page.see('//dd[normalize-space()="0 entries"]');
  const answer = await page.run(
    `const asked = new XMLHttpRequest(); asked.open("GET", "/api/v1/visits/${visit}", false); asked.send(); return asked.responseText`,
  );
  const { visit: kept, scored } = JSON.parse(answer);
  assert.equal(scored.sha256, kept.signed.result, 'the same bytes from both');
  assert.equal(kept.readings.length, 3);
  assert.deepEqual(
    kept.answers.map((/** @type {{ item: string }} */ one) => one.item),
    ['mnt-power'],
  );
  await page.close();
});
