// @ts-check
// A browser that is killed while it saves, as by a flat battery.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { openBrowser } from './setup.mjs';
import { item, killBrowser, part, pass, useFaultyNetwork, visitId } from './fault.mjs';
import { itemCard, keptOffline, pick, sendAll, signIn, tile, touch } from './actions.mjs';

const network = useFaultyNetwork();

/** The steps of a save, in order; the page stops at the armed one until it is dead. */
const steps = ['begins', 'event', 'counter', 'card', 'complete', 'shown'];

/** Runs in the page before anything else: makes the armed step wait for ever. */
function holdSteps() {
  let armed = '';
  const reach = (/** @type {string} */ step) => {
    if (armed === '' || step !== armed) return;
    const hold = new XMLHttpRequest();
    hold.open('POST', '/hold', false);
    hold.send();
  };
  Object.assign(globalThis, {
    arm: (/** @type {string} */ step) => {
      armed = step;
    },
  });
  const transaction = IDBDatabase.prototype.transaction;
  IDBDatabase.prototype.transaction = function (stores, mode, options) {
    const saves = mode === 'readwrite' && [...stores].includes('events');
    if (saves) reach('begins');
    const tx = transaction.call(this, stores, mode, options);
    if (saves) tx.addEventListener('complete', () => reach('complete'));
    return tx;
  };
  for (const name of /** @type {const} */ (['add', 'put'])) {
    const plain = IDBObjectStore.prototype[name];
    IDBObjectStore.prototype[name] = function (value, key) {
      const request = key === undefined ? plain.call(this, value) : plain.call(this, value, key);
      reach({ events: 'event', meta: 'counter', subjects: 'card' }[this.name] ?? '');
      return request;
    };
  }
}

test('fault 12: the browser is killed at each step of saving', async () => {
  const profile = await network.freshProfile();
  const rounds = Number(process.env.KILLS ?? 1);
  let tablet = await openBrowser(profile);
  await network.atVisit(tablet.page);
  await keptOffline(tablet.page);
  const visit = visitId(tablet.page);
  await pick(tablet.page, part, item, '4');
  await sendAll(tablet.page);
  let before = '4';
  for (let round = 0; round < rounds; round++) {
    for (const step of steps) {
      await tablet.close();
      tablet = await openBrowser(profile);
      const { page, context } = tablet;
      await page.addInitScript(holdSteps);
      /** @type {() => void} */
      let reached = () => undefined;
      const held = new Promise((resolve) => {
        reached = () => resolve(undefined);
      });
      network.proxy.rule = ({ path }) => {
        if (path.startsWith('/api/')) return { kind: 'cut' };
        if (path === '/hold') reached();
        return path === '/hold' ? new Promise(() => undefined) : { kind: 'pass' };
      };
      await signIn(page, `${network.proxy.url}/visits/${visit}`, 'marit');
      await tile(page, part);
      const level = before === '4' ? '1' : '4';
      await page.evaluate((armed) => /** @type {any} */ (globalThis).arm(armed), step);
      if (step === 'shown') {
        await touch(page, item, level);
        await itemCard(page, item).locator('.saved').filter({ hasText: 'Saved on this tablet' }).waitFor();
      } else {
        await itemCard(page, item)
          .locator('label')
          .filter({ has: page.locator(`input[value="${level}"]`) })
          .click({ noWaitAfter: true });
        await held;
      }
      await killBrowser(profile, context);

      network.proxy.rule = pass;
      tablet = await openBrowser(profile);
      await signIn(tablet.page, `${network.proxy.url}/visits/${visit}`, 'marit');
      await tile(tablet.page, part);
      const now = await itemCard(tablet.page, item).locator('input:checked').first().getAttribute('value');
      assert.ok(now === before || now === level, `after a kill at "${step}" the item is ${now}`);
      if (step === 'complete' || step === 'shown') assert.equal(now, level, `what was complete at "${step}" is there`);
      if (step === 'begins' || step === 'event') assert.equal(now, before, `what had not been written at "${step}" is not there`);
      await sendAll(tablet.page);
      assert.deepEqual(await network.levelsOnServer(tablet.page, visit), [now], `the server has what the tablet shows after "${step}"`);
      assert.equal(await tablet.page.getByText('Set aside by the server').count(), 0);
      before = now ?? '';
    }
  }
  assert.deepEqual(tablet.problems, []);
  await tablet.close();
});
