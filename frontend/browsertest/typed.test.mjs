// @ts-check
// What is typed and not saved yet: a closed page and another app in front of it
// lose nothing, and a text that is older takes the place of none.
import assert from 'node:assert/strict';
import { afterEach, test } from 'node:test';
import { backToMap, comesTo, draftsKept, openVisit, signIn, tile, touch } from './actions.mjs';
import { closeAll, openBrowser, useServer } from './setup.mjs';

/** @typedef {import('playwright-core').Page} Page */

const service = useServer();
afterEach(closeAll);

const client = 'Heath Ellery';
/** @param {Page} page */
const story = (page) => page.getByLabel('The story so far');
/** @param {Page} page */
const goals = (page) => page.getByLabel('Goals, in the client’s own words');

/** @param {Page} page */
async function toNotes(page) {
  await openVisit(page, client);
  await tile(page, 'Visit notes');
  await story(page).waitFor();
}

/** Another app is in front of the page, or no longer. @param {Page} page @param {'hidden' | 'visible'} state */
const show = (page, state) =>
  page.evaluate((now) => {
    Object.defineProperty(document, 'visibilityState', { configurable: true, get: () => now });
    document.dispatchEvent(new Event('visibilitychange'));
  }, state);

test('a note that is corrected after another app was in front stays as it was corrected', async () => {
  const { page, close, problems } = await openBrowser(await service.profile());
  await signIn(page, service.server.url, 'marit');
  await toNotes(page);
  await story(page).fill('Slept badly');
  await goals(page).click();
  await page.getByText('Saved on this tablet: The story so far').waitFor();
  await show(page, 'hidden');
  await show(page, 'visible');
  await story(page).fill('Slept well');
  await goals(page).click();
  await page.getByText('Saved on this tablet: The story so far').waitFor();
  await backToMap(page);
  await tile(page, 'Visit notes');
  await story(page).waitFor();
  assert.equal(await story(page).inputValue(), 'Slept well');
  // What would put the older text back does so before the other screen is reached.
  await backToMap(page);
  await tile(page, 'Visit notes');
  await comesTo(() => story(page).inputValue(), 'Slept well');
  assert.equal(await page.locator('.draft-line').count(), 0, 'and nothing is unsaved that is saved');
  assert.deepEqual(problems, []);
  await close();
});

test('what is typed and not left is there again after the page was loaded anew', async () => {
  const { page, close, problems } = await openBrowser(await service.profile());
  await signIn(page, service.server.url, 'marit');
  await toNotes(page);
  const typed = `${await goals(page).inputValue()} and to the shop`;
  await goals(page).fill(typed);
  await comesTo(() => draftsKept(page), 1, 'it is on the disk soon after');
  await page.reload();
  await signIn(page, page.url(), 'marit');
  await toNotes(page);
  await comesTo(() => goals(page).inputValue(), typed);
  assert.deepEqual(problems, []);
  await close();
});

test('what is typed about one question is never put into the field of another', async () => {
  const { page, close, problems } = await openBrowser(await service.profile());
  await signIn(page, service.server.url, 'marit');
  await openVisit(page, client);
  await tile(page, 'Positioning');
  const reason = page.getByLabel('Why does it not apply?');
  const ask = async (/** @type {string} */ item) => {
    const more = page.getByRole('button', { name: `More about ${item}`, exact: true });
    if ((await more.getAttribute('aria-expanded')) !== 'true') await more.click();
    await page.getByRole('button', { name: `Does not apply… ${item}`, exact: true }).click();
  };
  await ask('Reach when tilted');
  await reason.fill('no tilt on this chair');
  // The question, and what was typed about it.
  await comesTo(() => draftsKept(page), 2);
  await page.reload();
  await signIn(page, page.url(), 'marit');
  await reason.waitFor();
  assert.equal(await reason.inputValue(), 'no tilt on this chair', 'the question is open again as it was left');
  await ask('Driving limb held up');
  await comesTo(() => reason.count(), 2);
  assert.deepEqual(await Promise.all([reason.first().inputValue(), reason.last().inputValue()]), ['', 'no tilt on this chair']);
  // What the checklist suggests is one touch away.
  await ask('Room to grow');
  await page.getByRole('button', { name: 'fully grown', exact: true }).click();
  assert.equal(await reason.last().inputValue(), 'fully grown');
  assert.deepEqual(problems, []);
  await close();
});

/** From now on the browser has no room, or has it again. @param {Page} page @param {boolean} full */
const fillDisk = (page, full) =>
  page.evaluate((no) => {
    const stores = /** @type {{ put: unknown, kept?: unknown }} */ (IDBObjectStore.prototype);
    stores.kept ??= stores.put;
    stores.put = no
      ? () => {
          throw new DOMException('no room', 'QuotaExceededError');
        }
      : stores.kept;
  }, full);

test('a number and a reason that could not be saved stay in their fields, and are saved at the next try', async () => {
  const { page, close, problems } = await openBrowser(await service.profile());
  await signIn(page, service.server.url, 'marit');
  await openVisit(page, client);
  await tile(page, 'Switches and mounting');
  const card = page.locator('#mnt-clear');
  const failed = card.getByText('Not saved. This tablet has no room left');
  const saved = (/** @type {string} */ what) => card.getByText(`Saved on this tablet: Clearing the mount, ${what}`).waitFor();
  const number = card.locator('.number-body input');
  const save = card.getByRole('button', { name: 'Save Clearing the mount', exact: true });
  await number.fill('8');
  await save.click();
  await saved('8');
  await fillDisk(page, true);
  await number.fill('12');
  await save.click();
  await failed.waitFor();
  assert.equal(await number.inputValue(), '12');
  await fillDisk(page, false);
  await save.click();
  await saved('12');
  assert.equal(await number.inputValue(), '12');

  const reason = card.getByLabel('Why does it not apply?');
  const apply = card.getByRole('button', { name: 'Save: does not apply' });
  await card.getByRole('button', { name: /^More about/ }).click();
  await card.getByRole('button', { name: /^Does not apply…/ }).click();
  await reason.fill('There is no mount yet');
  await fillDisk(page, true);
  await apply.click();
  await failed.waitFor();
  assert.equal(await reason.inputValue(), 'There is no mount yet');
  await fillDisk(page, false);
  await apply.click();
  await saved('Does not apply');
  assert.equal(await reason.count(), 0);
  assert.deepEqual(problems, []);
  await close();
});

test('a card that says what was saved does not say so any more once that was taken back', async () => {
  const { page, close, problems } = await openBrowser(await service.profile());
  await signIn(page, service.server.url, 'marit');
  await openVisit(page, client);
  await tile(page, 'Switches and mounting');
  const card = page.locator('#mnt-power');
  const said = (/** @type {import('playwright-core').Locator} */ where) =>
    where.locator('.saved').filter({ hasText: 'Saved on this tablet' });
  const told = (/** @type {string} */ words) => page.locator('.toast').filter({ hasText: words });
  await touch(page, 'On and off', '3');
  await said(card).waitFor();
  await told('Kept: On and off').getByRole('button', { name: 'Undo: On and off' }).click();
  await told('Taken back: On and off, not tested').waitFor();
  await said(card).waitFor({ state: 'detached' });
  // And what was taken back is not said any more once it was answered again.
  await touch(page, 'On and off', '2');
  await said(card).waitFor();
  await told('Taken back').waitFor({ state: 'detached' });
  // A card that opens at the lower edge comes into sight.
  const last = page.locator('#mnt-cables');
  await last.evaluate((one) => one.scrollIntoView({ block: 'end' }));
  await last.getByRole('button', { name: /^More about/ }).click();
  const overTheFoot = (/** @type {Element} */ one) =>
    one.getBoundingClientRect().bottom <= innerHeight + 1 - parseFloat(getComputedStyle(document.documentElement).scrollPaddingBottom);
  await comesTo(() => last.evaluate(overTheFoot), true, 'the opened card is in sight');
  // Where something else was kept last, nothing offers to take an answer back.
  await told('Kept: On and off').waitFor();
  await backToMap(page);
  assert.equal(await page.locator('.toast').count(), 0);
  assert.deepEqual(problems, []);
  await close();
});
