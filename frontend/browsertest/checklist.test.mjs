// @ts-check
// The checklist in the hand: short enough, next missing, find, together, as at the last
// visit, what each answer allows, counting by touch, and all of it by the keyboard.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { comesTo, draftRows, follow, itemCard, itemsOfStandard, openVisit, passTime, signIn, startVisit, tile } from './actions.mjs';
import { openBrowser, sizes, useServer } from './setup.mjs';

/** @typedef {import('playwright-core').Page} Page */

const service = useServer();

/** @param {string} client */
async function begin(client) {
  const tablet = await openBrowser(await service.profile());
  const { page } = tablet;
  await signIn(page, service.server.url, 'marit');
  await page.getByText(/^Taking the clients of/).waitFor({ state: 'detached', timeout: 120_000 });
  await page.getByRole('link', { name: client }).first().waitFor();
  return tablet;
}

/** @param {Page} page @param {string} part */
const toPart = async (page, part) => {
  await page
    .locator('.rail a')
    .filter({ has: page.getByText(part, { exact: true }) })
    .click();
  await page.getByRole('heading', { level: 1, name: part, exact: true }).waitFor();
};

test('all items of the checklist lie within 25 screen heights, no control of them is smaller than a finger', async () => {
  const { page, close, problems } = await begin('Sedge Conway');
  await startVisit(page, 'Sedge Conway');
  const names = page.locator('.rail .rail-part .rail-name > span');
  await comesTo(() => names.count(), 10);
  const parts = await names.allInnerTexts();
  let [heights, items] = [0, 0];
  for (const part of parts) {
    await toPart(page, part);
    await page.locator('.item-card').first().waitFor();
    items += await page.locator('.item-card').count();
    heights += await page.evaluate(() => (document.querySelector('.checklist')?.scrollHeight ?? 0) / innerHeight);
    const small = await page.evaluate(() =>
      [...document.querySelectorAll('.checklist button, .checklist .choice, .checklist a.button, .checklist input.input')]
        .filter((one) => {
          const { width, height } = one.getBoundingClientRect();
          return width > 0 && (height < 43.5 || width < 43.5);
        })
        .map((one) => `${one.className}: ${one.textContent}`),
    );
    assert.deepEqual(small, [], part);
  }
  assert.equal(items, itemsOfStandard);
  assert.ok(heights <= 25, `${heights.toFixed(1)} screen heights`);
  // The screen that chooses the control is two heights at most, before and after.
  await page.locator('.rail a').filter({ hasText: 'Control and place' }).click();
  const kit = page.getByRole('group', { name: /^From the team/ });
  await kit.waitFor();
  const tall = () => page.evaluate(() => document.documentElement.scrollHeight / innerHeight);
  assert.ok((await tall()) <= 2, `nothing chosen: ${(await tall()).toFixed(2)} screen heights`);
  await kit.getByText('Short grey stick', { exact: true }).click();
  await page.getByRole('group', { name: 'Sites that often drive' }).getByText('right hand', { exact: true }).click();
  await page.getByText('Saved on this tablet: control and place').waitFor();
  assert.ok((await tall()) <= 2, `chosen: ${(await tall()).toFixed(2)} screen heights`);
  for (const box of [sizes.upright, sizes.phone]) {
    await page.setViewportSize(box);
    await comesTo(() => page.evaluate(() => document.documentElement.scrollWidth), box.width, 'nothing sticks out at the side');
  }
  // The way back from the outdoor theme is in sight: its sun lies white on black.
  const sun = page.getByRole('button', { name: 'Outdoors' });
  await sun.click();
  const ground = () => sun.evaluate((one) => getComputedStyle(one).backgroundColor);
  await comesTo(ground, 'rgb(0, 0, 0)');
  await sun.click();
  await comesTo(ground, 'rgba(0, 0, 0, 0)');
  assert.deepEqual(problems, []);
  await close();
});

test('next missing, find, together and what an answer allows', async () => {
  const { page, close, problems } = await begin('Sedge Conway');
  await startVisit(page, 'Sedge Conway');

  // Consent and who holds the stop are asked where a visit begins, each in one touch.
  await page.getByRole('group', { name: 'Often: Consent' }).getByText('spoken, by the client').click();
  await page.getByRole('group', { name: 'Often: Who holds the stop' }).getByText('the therapist', { exact: true }).click();
  await comesTo(
    () => page.locator('.said-line').allInnerTexts(),
    ['Consent: spoken, by the client, to everything today', 'Who holds the stop: the therapist'],
  );

  await page.locator('.rail a').filter({ hasText: 'Control and place' }).click();
  const kit = page.getByRole('group', { name: /^From the team/ });
  // A list of five and more takes columns where there is room.
  const sides = (/** @type {import('playwright-core').Locator} */ list) =>
    list.locator('.choice').evaluateAll((all) => new Set(all.map((one) => Math.round(one.getBoundingClientRect().left))).size);
  await comesTo(() => sides(page.locator('.setup-kinds .choice-rows').first()), 3);
  await kit.getByText('Short grey stick', { exact: true }).click();
  await page.getByRole('group', { name: 'Sites that often drive' }).getByText('right hand', { exact: true }).click();
  await page.getByText('Saved on this tablet: control and place').waitFor();

  // One touch says that there is no switch, and takes it back.
  await toPart(page, 'Switches and mounting');
  const noSwitch = page.getByRole('button', { name: 'No switch' });
  const without = page.locator('.standing-not-applicable').filter({ hasText: 'no switch' });
  await noSwitch.click();
  await comesTo(() => without.count(), 2);
  await comesTo(() => noSwitch.getAttribute('aria-pressed'), 'true');
  await noSwitch.click();
  await comesTo(() => without.count(), 0);
  // A force that is measured at a switch takes it back too.
  await noSwitch.click();
  await comesTo(() => without.count(), 2);
  await page.locator('.rail a').filter({ hasText: 'Switch force' }).click();
  for (const key of ['9', '0', 'Enter']) await page.keyboard.press(key);
  await page.locator('.saved').filter({ hasText: '90' }).first().waitFor();
  await page.goBack();
  await page.getByRole('heading', { level: 1, name: 'Switches and mounting' }).waitFor();
  await comesTo(() => without.count(), 0);
  await toPart(page, 'Hand-over and training');

  // Together: only what can neither stop nor hold the level, each listed and marked.
  await page.getByRole('button', { name: 'All these are fine (5)' }).click();
  const listed = page.locator('.given-together li');
  await comesTo(() => listed.count(), 5);
  assert.equal(await itemCard(page, 'Limits written down').locator('.standing-answered').count(), 0);
  const [first] = await listed.locator('a').allInnerTexts();
  const card = itemCard(page, first ?? '');
  await card.getByRole('button', { name: /^More about/ }).click();
  await card.getByText('given with others of its part').waitFor();
  await card.getByText('holds nothing down').first().waitFor();
  await page.getByRole('button', { name: 'Take all back' }).click();
  await page.getByRole('button', { name: 'All these are fine (5)' }).waitFor();

  // A date for looking again is one touch, and answers nothing by itself; without it a yes is questioned.
  const booked = itemCard(page, 'Recheck booked');
  await booked.getByText('in 8 weeks', { exact: true }).click();
  await booked.locator('.saved').filter({ hasText: 'what happens next' }).waitFor();
  assert.equal(await booked.locator('.standing-answered').count(), 0);
  await booked.locator('.choice').filter({ hasText: 'date in the diary' }).click();
  await booked.locator('.standing-answered').waitFor();
  const agreed = await booked.getByLabel('Recheck on').inputValue();
  assert.equal(Math.round((Date.parse(agreed) - Date.now()) / 604_800_000), 8);

  // Find: two taps to an item of another part, which then has the focus.
  await page.getByRole('button', { name: 'Find', exact: true }).click();
  await page.locator('.find-row').filter({ hasText: 'Trunk upright' }).click();
  await page.getByRole('heading', { level: 1, name: 'Positioning' }).waitFor();
  await comesTo(() => page.evaluate(() => document.activeElement?.textContent), 'Trunk upright');
  const trunk = itemCard(page, 'Trunk upright');
  await trunk.getByRole('button', { name: /^More about/ }).click();
  const allows = trunk.locator('.answers-allow > div');
  await allows.filter({ hasText: 'leans and needs a push back' }).getByText('holds the level at Accompanied').waitFor();
  await allows.filter({ hasText: 'falls sideways' }).getByText('no driving for now').waitFor();
  await allows.filter({ hasText: 'Not tested' }).getByText('no level yet').waitFor();

  // Next missing goes to what comes after the answer, by the keyboard alone.
  await trunk.locator('input[value="3"]').focus();
  await page.keyboard.press('Space');
  await trunk.locator('.saved').filter({ hasText: 'Saved on this tablet' }).waitFor();
  await page.getByRole('button', { name: /^Next missing: Head control/ }).press('Enter');
  await comesTo(() => page.evaluate(() => document.activeElement?.textContent), 'Head control');

  // Where the date goes, its answer stays and is questioned, there and on the page that is signed.
  await page.locator('.rail a').filter({ hasText: 'Sign the visit' }).click();
  await page.getByText('In the diary: “Recheck booked” is answered yes.').waitFor();
  await page.getByLabel('Recheck on').fill('');
  await page.getByLabel('Recheck on').blur();
  await page.getByText('“Recheck booked” is answered yes, and no date is agreed.').waitFor();
  await page.getByRole('button', { name: 'It is not booked' }).click();
  await page.getByText('“Recheck booked” is answered yes').waitFor({ state: 'detached' });
  await page.getByText('in 8 weeks', { exact: true }).click();
  await page.getByRole('button', { name: 'It is in the diary' }).click();
  await page.getByText('In the diary: “Recheck booked” is answered yes.').waitFor();
  assert.deepEqual(problems, []);
  await close();
});

test('tries and commands are counted by touch and the sixty seconds run, survive a kill, and give the answer', async () => {
  const profile = await service.profile();
  const tablet = await openBrowser(profile);
  let { page } = tablet;
  await signIn(page, service.server.url, 'marit');
  await page.getByRole('link', { name: 'Heath Ellery' }).first().waitFor({ timeout: 60_000 });
  await openVisit(page, 'Heath Ellery');
  await toPart(page, 'Vision, perception and communication');
  const url = page.url();
  const seen = () => page.locator('#per-sides');
  const pad = (/** @type {string} */ name) => seen().locator('.counter-pad').filter({ hasText: name });
  await seen()
    .getByRole('button', { name: /^Count by touch/ })
    .click();
  for (const box of await seen().locator('.counter-pad').all()) assert.ok(((await box.boundingBox())?.height ?? 0) >= 64);
  const written = (/** @type {string[]} */ before) => comesTo(async () => String(await draftRows(page)) !== String(before), true);
  let had = await draftRows(page);
  for (const name of ['Left seen', 'Left seen', 'Right seen', 'Left missed']) await pad(name).click();
  await seen().getByRole('button', { name: 'Undo last' }).click();
  await seen().getByText('3 of 10').waitFor();
  await written(had);
  // Commands a minute: counted while the clock runs.
  const go = (/** @type {string} */ to) =>
    page
      .locator('.rail a')
      .filter({ has: page.getByText(to, { exact: true }) })
      .click();
  const commands = () => page.getByRole('group', { name: 'Commands a minute' });
  await go('Needs');
  await page.getByRole('button', { name: 'Count the commands by touch' }).click();
  await commands().getByRole('button', { name: 'Start the clock' }).click();
  for (let n = 0; n < 4; n++) await commands().locator('.counter-pad').click();
  await commands().getByRole('button', { name: 'Undo last' }).click();
  // Sixty seconds at rest: the clock goes on meanwhile.
  await go('Force not meant');
  await page.getByRole('button', { name: 'Start the 60 s' }).waitFor();
  had = await draftRows(page);
  await page.getByRole('button', { name: 'Start the 60 s' }).click();
  await page.getByRole('timer').waitFor();
  await written(had);
  await tablet.close();
  const again = await openBrowser(profile);
  page = again.page;
  await signIn(page, url, 'marit');
  await seen().getByText('3 of 10').waitFor();
  for (const name of ['Left seen', 'Left seen', 'Left missed', 'Right seen', 'Right seen', 'Right seen', 'Right seen'])
    await pad(name).click();
  await seen().locator('.saved').filter({ hasText: 'left 4, right 5' }).waitFor();
  // On a slow machine more than half a minute went by, and the clocks stood.
  const runsOn = async (/** @type {import('playwright-core').Locator} */ runs, /** @type {RegExp} */ name) => {
    const stood = page.getByRole('button', { name });
    await runs.or(stood).first().waitFor();
    if (await stood.isVisible()) await stood.click();
    await runs.waitFor();
  };
  await go('Needs');
  await commands().getByText('3', { exact: true }).waitFor();
  await runsOn(commands().getByRole('button', { name: 'Stand still' }), /^Go on counting/);
  await go('Force not meant');
  await runsOn(page.getByRole('timer'), /^Go on with the last/);
  await passTime(page, 60_000);
  await page.getByText('The 60 s are over').waitFor();
  await page.getByRole('button', { name: 'Another 60 s' }).click();
  await page.getByRole('button', { name: 'Take the start back' }).click();
  await page.getByRole('button', { name: 'Start the 60 s' }).waitFor();
  await follow(page, 'Visit map');
  await tile(page, 'Needs');
  await commands()
    .getByRole('button', { name: /^Keep [\d.]+ a minute/ })
    .click();
  await page.getByText('Saved on this tablet: Commands while driving').waitFor();
  const perMinute = Number(await page.getByLabel(/^Commands while driving/).inputValue());
  assert.ok(perMinute > 1 && perMinute <= 3, `${perMinute} a minute: three in something more than a minute`);
  assert.deepEqual(again.problems, []);
  await again.close();
});

test('the answers of the last visit are shown dashed, count as not tested, and are marked once confirmed', async () => {
  const { page, close, problems } = await begin('Juniper Vale');
  await follow(page, 'Juniper Vale');
  await follow(page, 'Start a visit');
  await page.getByText('gf', { exact: true }).click();
  await page.getByRole('button', { name: 'Start the visit' }).click();
  await page.getByRole('heading', { level: 1, name: 'Visit map' }).waitFor();
  await toPart(page, 'Positioning');
  await page.getByRole('button', { name: /^As last visit/ }).click();
  await page.locator('.choice-offered').first().waitFor();
  assert.equal(await page.locator('.item-card .standing-answered').count(), 0, 'nothing is answered by that');
  const card = itemCard(page, 'Pelvis in place');
  await card.getByText('last visit, tap to confirm').waitFor();
  await card.locator('.choice-offered').click();
  await card.locator('.saved').filter({ hasText: 'Saved on this tablet' }).waitFor();
  await card.getByRole('button', { name: /^More about/ }).click();
  await card.getByText('as at the last visit, confirmed').waitFor();
  assert.deepEqual(problems, []);
  await close();
});
