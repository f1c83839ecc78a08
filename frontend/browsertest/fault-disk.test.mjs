// @ts-check
// A tablet whose disk, browser or records fail under the person's hands.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { openBrowser } from './setup.mjs';
import { client, item, pass, part, personId, refuse, useFaultyNetwork, visitId } from './fault.mjs';
import { follow, itemCard, openVisit, pick, sendAll, signIn, thisTablet, tile, touch } from './actions.mjs';

const network = useFaultyNetwork();

test('fault 14: the browser has no room left in the middle of a visit', async () => {
  const { page, context, problems } = await network.tablet();
  await network.atVisit(page);
  await follow(page, 'Visit notes');
  const debug = await context.newCDPSession(page);
  await debug.send('Storage.overrideQuotaForOrigin', { origin: network.proxy.url, quotaSize: 1_000 });
  const field = page.getByLabel('The story so far');
  const story = 'Slept badly; the left hand is weaker since Tuesday. '.repeat(40).trim();
  // The browser goes by what it last knew of the room for some time: seconds, not saves.
  const refused = page.getByRole('alert').filter({ hasText: 'Not saved. This tablet has no room left' });
  const until = Date.now() + 120_000;
  for (let tries = 1; !(await refused.isVisible()) && Date.now() < until; tries++) {
    await field.fill(`${story} ${tries}`);
    await field.blur();
    await refused.or(page.getByText('Saved on this tablet: The story so far')).first().waitFor();
  }
  await refused.waitFor();
  const typed = await field.inputValue();
  await page.locator('.banner').filter({ hasText: 'This tablet has no room left' }).waitFor();
  await page.locator('.draft-line').or(refused).first().waitFor();
  assert.equal(await field.inputValue(), typed, 'what was typed is still there');
  assert.match(typed, /^Slept badly/);

  // A tap that cannot be kept says so where it was tapped.
  await page.getByRole('link', { name: 'Visit map' }).last().click();
  await tile(page, part);
  await touch(page, item, '3');
  await itemCard(page, item).getByText('Not saved.').waitFor();
  await page.getByRole('link', { name: 'Visit map' }).last().click();

  await debug.send('Storage.overrideQuotaForOrigin', { origin: network.proxy.url });
  await follow(page, 'Visit notes');
  await field.fill(story);
  await field.blur();
  await page.getByText('Saved on this tablet: The story so far').waitFor();
  await page.locator('.banner').filter({ hasText: 'This tablet has no room left' }).waitFor({ state: 'detached' });
  await sendAll(page);
  assert.deepEqual(problems, []);
  await context.close();
});

/** Runs in the page first: keeps the handles of the records, so that they can be closed under the app. */
function keepHandles() {
  const state = { handles: /** @type {IDBDatabase[]} */ ([]), dead: false, opened: 0 };
  Object.assign(globalThis, { records: state });
  const open = IDBFactory.prototype.open;
  IDBFactory.prototype.open = function (name, version) {
    const request = open.call(this, name, version);
    state.opened += 1;
    request.addEventListener('success', () => state.handles.push(request.result));
    return request;
  };
  const transaction = IDBDatabase.prototype.transaction;
  IDBDatabase.prototype.transaction = function (...given) {
    if (state.dead) throw new DOMException('Connection to Indexed Database server lost.', 'UnknownError');
    return transaction.apply(this, given);
  };
}

// Each of these tests works on the same visit with a tablet of its own, which need
// not have seen what the one before it entered: so each answers another item.
const mode = 'Speed and mode';
const [safety, look] = ['Safety and judgement', 'Looks round first'];

test('fault 15: the browser closes the records while the tablet sleeps', async () => {
  const { page, context, problems } = await network.tablet();
  await page.addInitScript(keepHandles);
  await network.atVisit(page);
  await tile(page, part);
  const run = (/** @type {(records: { handles: IDBDatabase[], dead: boolean, opened: number }) => number | void} */ work) =>
    page.evaluate(`(${work})(globalThis.records)`);

  await run((records) => {
    for (const one of records.handles) one.close();
  });
  await touch(page, mode, '2');
  await itemCard(page, mode).locator('.saved').filter({ hasText: 'Saved on this tablet' }).waitFor();

  // It does not come back: a few tries, then a plain word, and no storm. How many requests
  // there are meanwhile depends on the machine; each of them tries once, or at first thrice.
  await run((records) => {
    records.dead = true;
    records.opened = 0;
  });
  await touch(page, mode, '3');
  await itemCard(page, mode).getByText('Not saved. The browser closed the records').waitFor();
  await page.locator('.banner').filter({ hasText: 'The browser closed the records' }).waitFor();
  const opened = Number(await run((records) => records.opened));
  assert.ok(opened >= 1 && opened <= 40, `${opened} times opened`);

  await run((records) => {
    records.dead = false;
  });
  await touch(page, mode, '4');
  await itemCard(page, mode).locator('.saved').filter({ hasText: 'Saved on this tablet' }).waitFor();
  await page.locator('.banner').filter({ hasText: 'The browser closed the records' }).waitFor({ state: 'detached' });
  await sendAll(page);
  assert.deepEqual(problems, []);
  await context.close();
});

test('fault 16: the records are deleted under the running app', async () => {
  const { page, context, problems } = await network.tablet();
  await network.atVisit(page);
  const visit = visitId(page);
  const person = await personId(page, network.server.url);
  await pick(page, safety, look, '2');
  await sendAll(page);
  await page.goBack();
  // What the server has comes back first: an answer that had not seen it would stand
  // beside it. Then another one, as touching the same level enters nothing.
  for (const [way, before, level] of /** @type {const} */ ([
    ['by a person', '2', '4'],
    ['by the browser', '4', '0'],
  ])) {
    // One entry that the server does not have.
    network.proxy.rule = ({ path }) => (path.startsWith('/api/') ? { kind: 'cut' } : { kind: 'pass' });
    await touch(page, look, '1');
    await itemCard(page, look).locator('.saved').filter({ hasText: 'Saved on this tablet' }).waitFor();
    if (way === 'by a person') {
      await page.evaluate((name) => {
        indexedDB.deleteDatabase(name);
      }, `doorsill-${person}`);
    } else {
      const debug = await context.newCDPSession(page);
      await debug.send('Storage.clearDataForOrigin', { origin: network.proxy.url, storageTypes: 'indexeddb' });
      await touch(page, look, '3');
    }
    await page
      .locator('.banner')
      .filter({ hasText: 'The records on this tablet were deleted' })
      .getByText('1 entry in them had not been sent')
      .waitFor();
    await touch(page, look, '3');
    await itemCard(page, look).getByText('Not saved.').waitFor();

    // The next entry must not carry a number that the server knows.
    network.proxy.rule = pass;
    await page.getByRole('button', { name: 'Reload' }).click();
    await page.getByLabel('Password', { exact: true }).waitFor();
    await signIn(page, `${network.proxy.url}/`, 'marit');
    await page.getByRole('link', { name: client }).waitFor();
    await openVisit(page, client);
    await tile(page, safety);
    await itemCard(page, look).locator(`input[value="${before}"]:checked`).waitFor({ state: 'attached' });
    await touch(page, look, level);
    await itemCard(page, look).locator('.saved').filter({ hasText: 'Saved on this tablet' }).waitFor();
    await sendAll(page);
    assert.equal(await page.getByText('set aside by the server').count(), 0);
    assert.ok((await network.levelsOnServer(page, visit, 'saf-look')).includes(level), 'the new entry reached the record');
    await page.goBack();
  }
  assert.deepEqual(problems, []);
  await context.close();
});

test('fault 17: the browser cleared everything, and the person signs in again', async () => {
  const profile = await network.freshProfile();
  let tablet = await openBrowser(profile);
  await network.atVisit(tablet.page);
  network.proxy.rule = ({ method, path }) => (method === 'POST' && path === '/api/v1/events' ? refuse(503, 'busy') : { kind: 'pass' });
  await pick(tablet.page, part, item, '1');
  await touch(tablet.page, item, '2');
  await itemCard(tablet.page, item).locator('.saved').filter({ hasText: 'Saved on this tablet' }).waitFor();
  await thisTablet(tablet.page);
  await tablet.page.getByText('2 entries', { exact: true }).waitFor();
  await tablet.page.getByRole('button', { name: 'Send and fetch now' }).click();
  await network.untilReported(tablet.page, 2);

  const debug = await tablet.context.newCDPSession(tablet.page);
  await debug.send('Storage.clearDataForOrigin', { origin: network.proxy.url, storageTypes: 'all' });
  await tablet.close();
  network.proxy.rule = pass;
  tablet = await openBrowser(profile);
  const { page } = tablet;
  await signIn(page, network.proxy.url, 'marit');
  await page.getByRole('link', { name: client }).waitFor();
  // One more when what came in is folded: a visit there needs a choice.
  await page.getByText(/^[12] to look at$/).waitFor();
  await thisTablet(page);
  const lost = page.locator('.banner').filter({ hasText: 'Entries that the server never got' });
  await lost.getByText(/with 2 entries, the oldest written/).waitFor();
  await lost.getByRole('button', { name: 'I have read this' }).click();
  await lost.waitFor({ state: 'detached' });
  await page.goBack();
  await openVisit(page, client);
  await pick(page, part, item, '3');
  await sendAll(page);
  assert.deepEqual(tablet.problems, []);
  await tablet.close();
});
