// @ts-check
// Taking force with one hand: how many taps a set of twelve readings costs, by the
// pad and by a gauge that types, and what is said, moved and taken back meanwhile.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { openBrowser, useServer } from './setup.mjs';
import { comesTo, controlAndPlace, draftRows, follow, lockTablet, signIn, startVisit, tile } from './actions.mjs';

/** @typedef {import('playwright-core').Page} Page */

const service = useServer();

/** A visit at the force pad, with a control that asks 50 gf in every direction. @param {string} client */
async function atThePad(client) {
  const { page } = await openBrowser(await service.profile());
  await signIn(page, service.server.url, 'marit');
  await page.getByLabel('Search by name or number').fill(client);
  await page.getByRole('link', { name: client }).waitFor({ timeout: 60_000 });
  await startVisit(page, client);
  await controlAndPlace(page, [
    [/starts the chair/, '20'],
    [/^Force for full/, '50'],
  ]);
  await tile(page, 'Force');
  await page.locator('.pad-done').waitFor();
  await page.evaluate(() => {
    Object.assign(globalThis, { taps: 0 });
    addEventListener('pointerdown', () => Object.assign(globalThis, { taps: Reflect.get(globalThis, 'taps') + 1 }), { capture: true });
  });
  return page;
}

/** @param {Page} page */
const taps = (page) => page.evaluate(() => Number(Reflect.get(globalThis, 'taps')));

/** How many readings of a direction the drawing's choice says there are. @param {Page} page @param {string} direction */
const readingsOf = async (page, direction) =>
  Number(/, (\d+) of/.exec((await page.locator(`.rose-way-${direction}`).textContent()) ?? '')?.[1]);

/** @param {Page} page @param {string} direction @param {string} state */
async function isNow(page, direction, state) {
  await page.locator('.now-what').getByText(direction, { exact: true }).waitFor();
  await page.locator('.now-where').getByText(state, { exact: true }).waitFor();
}

/** @param {Page} page @param {string} value */
const kept = (page, value) =>
  page
    .locator('.saved')
    .filter({ hasText: new RegExp(`Saved on this tablet: .* ${value} gf`) })
    .waitFor();

/** What a gauge sends: no gap between keys, and Enter. @param {Page} page @param {string} value */
async function gauge(page, value) {
  for (const key of value) await page.keyboard.press(key);
  await page.keyboard.press('Enter');
}

const set = /** @type {const} */ ([
  ['Forward', ['640', '650', '655']],
  ['Reverse', ['138', '140', '142']],
  ['Left', ['420', '430', '425']],
  ['Right', ['390', '395', '400']],
]);

test('twelve readings cost at most forty taps with the pad', async () => {
  const page = await atThePad('Alder Finchley');
  for (const [direction, values] of set) {
    await isNow(page, direction, 'rested');
    for (const [i, value] of values.entries()) {
      for (const digit of value) await page.getByRole('button', { name: digit, exact: true }).click();
      // The first has nothing to be like; the others are kept by the pause.
      if (i === 0) await page.locator('.pad-done').click();
      await kept(page, value);
    }
  }
  for (const [direction] of set) assert.equal(await readingsOf(page, direction.toLowerCase()), 3, direction);
  const count = await taps(page);
  assert.ok(count <= 40, `${count} taps`);
  console.log(`twelve readings by the pad: ${count} taps`);

  // A number that the pause would keep stays with its direction when one goes on before the pause is over.
  await page.locator('.rose-way-left').click();
  for (const digit of '428') await page.getByRole('button', { name: digit, exact: true }).click();
  await page.locator('.rose-way-right').click();
  await kept(page, '428');
  await isNow(page, 'Right', 'rested');
  assert.equal(await page.locator('.pad-input').inputValue(), '');
  assert.deepEqual([await readingsOf(page, 'left'), await readingsOf(page, 'right')], [4, 3]);
});

test('twelve readings cost no tap with a gauge that types, wherever the focus is', async () => {
  const page = await atThePad('Bracken Odell');
  // Whatever listens for keys hears nothing of a gauge.
  await page.evaluate(() => {
    Object.assign(globalThis, { heard: '' });
    document.addEventListener('keydown', (event) => Object.assign(globalThis, { heard: Reflect.get(globalThis, 'heard') + event.key }));
    document.querySelector('h1')?.focus();
  });
  for (const [direction, values] of set) {
    await isNow(page, direction, 'rested');
    for (const value of values) await gauge(page, value);
    await kept(page, String(values.at(-1)));
  }
  for (const [direction] of set) assert.equal(await readingsOf(page, direction.toLowerCase()), 3, direction);
  assert.equal(await taps(page), 0);
  assert.equal(await page.evaluate(() => Reflect.get(globalThis, 'heard')), '');
  console.log('twelve readings by a gauge: 0 taps');

  // The tired round begins where the rested one did, and the drawing has both.
  await page.locator('.place-toggles').getByText('Tired', { exact: true }).click();
  await isNow(page, 'Forward', 'tired');
  await gauge(page, '0560,5');
  await kept(page, '560.5');
  await page.getByRole('img', { name: /Forward rested 648 tired 560 asked 50/ }).waitFor();

  // Readings that come faster than they are written are all kept, in order.
  await page.locator('.rose-way-left').click();
  for (const value of ['350', '352', '349']) await gauge(page, value);
  await kept(page, '349');
  await page.locator('.rose-way-left').click();
  await page.locator('.set-taken').nth(2).waitFor();
  assert.deepEqual(await page.locator('.set-taken').allTextContents(), ['350', '352', '349']);
});

test('a set that lies far apart holds its direction; readings are asked about, moved and taken back', async () => {
  const page = await atThePad('Aspen Doyle');
  await gauge(page, '124');
  await gauge(page, '62');
  await page.getByText('62 and 124 lie far apart.').waitFor();
  await gauge(page, '90');
  await page.getByText('Rest two minutes, then two more. All are kept.').waitFor();
  await isNow(page, 'Forward', 'rested');
  await page.locator('.rose text', { hasText: '62 to 124' }).waitFor();
  const had = await draftRows(page);
  await page.getByRole('button', { name: 'Rest two minutes' }).click();
  // A rest goes on while the tablet is locked.
  const at = page.url();
  await page.getByRole('button', { name: /^Resting, 1?\d+ seconds left/ }).waitFor();
  await comesTo(async () => String(await draftRows(page)) !== String(had), true);
  await lockTablet(page);
  await page.getByLabel('Password', { exact: true }).waitFor();
  await signIn(page, at, 'marit');
  await page.getByRole('button', { name: /^Resting, 1?\d+ seconds left/ }).click();
  await page.getByRole('button', { name: 'Rest two minutes' }).waitFor();

  // Five times the others: kept, and asked about with one tap for either.
  await gauge(page, '950');
  await page.getByText('950 gf? The others are near 90 gf.').waitFor();
  assert.equal(await page.locator('.set-taken').count(), 4);
  // Neither the question nor what lies far apart is lost with the page.
  const url = page.url();
  await lockTablet(page);
  await page.getByLabel('Password', { exact: true }).waitFor();
  await signIn(page, url, 'marit');
  await page.getByText('950 gf? The others are near 90 gf.').waitFor();
  await page.locator('.rose text', { hasText: '62 to' }).waitFor();
  await isNow(page, 'Forward', 'rested');
  await page.getByRole('button', { name: 'It was 95 gf' }).click();
  await page.locator('.set-taken', { hasText: /^95$/ }).waitFor();
  await page.getByText('Typed wrongly: it was 95').waitFor();
  await page.getByRole('button', { name: 'Undo 95' }).click();
  await page.locator('.set-taken', { hasText: /^950$/ }).waitFor();
  await page.locator('.set-taken', { hasText: /^95$/ }).waitFor({ state: 'detached' });
  await page.getByRole('button', { name: 'Undo 950' }).click();
  await page.locator('.set-taken', { hasText: /^950$/ }).waitFor({ state: 'detached' });

  // One that belongs elsewhere goes there in one touch, and comes back in one.
  await page.locator('.set-taken', { hasText: /^62$/ }).click();
  await page.getByRole('group', { name: 'Move 62 gf' }).getByRole('button', { name: 'Reverse' }).click();
  await page.locator('.set-taken', { hasText: /^62$/ }).waitFor({ state: 'detached' });
  await page.locator('.rose-way-reverse').click();
  await page.locator('.set-taken', { hasText: /^62$/ }).waitFor();
  await page.getByText('62 gf, moved here').waitFor();
  await page.getByRole('button', { name: 'Undo move to Reverse' }).click();
  await isNow(page, 'Forward', 'rested');
  await page.locator('.set-taken', { hasText: /^62$/ }).waitFor();

  // A whole set that was typed in the wrong state.
  await page.locator('.set-taken', { hasText: /^124$/ }).click();
  await page.getByRole('button', { name: 'All 3 of them' }).click();
  await page.getByRole('group', { name: 'Move 124 gf' }).getByRole('button', { name: 'Tired' }).click();
  await page.locator('.set-taken').first().waitFor({ state: 'detached' });
  await page.locator('.place-toggles').getByText('Tired', { exact: true }).click();
  await page.locator('.rose-way-forward').click();
  await page.locator('.set-taken').nth(2).waitFor();

  // What cannot be a reading stays where it was typed.
  await gauge(page, '12000');
  await page.getByText(/The limit is 10000 gf/).waitFor();
  assert.equal(await page.locator('.pad-input').inputValue(), '12000');
  await page.locator('.pad-input').fill('');

  // A swipe over the keys keeps, and presses none of them.
  for (const digit of '93') await page.getByRole('button', { name: digit, exact: true }).click();
  const key = await page.getByRole('button', { name: '7', exact: true }).boundingBox();
  assert.ok(key);
  await page.mouse.move(key.x + 10, key.y + 10);
  await page.mouse.down();
  await page.mouse.move(key.x + 170, key.y + 20);
  await page.mouse.up();
  await kept(page, '93');

  // On a telephone the drawing and the whole pad are in sight at once.
  await page.setViewportSize({ width: 390, height: 844 });
  await page.evaluate(() => scrollTo(0, 0));
  const bar = await page.locator('nav.foot').boundingBox();
  for (const part of ['.rose', '.pad-keys', '.pad-undo', '.pad-done']) {
    const box = await page.locator(part).boundingBox();
    assert.ok(
      box && bar && box.y >= 56 && box.y + box.height <= bar.y,
      `${part} ends at ${box && box.y + box.height}, the bar begins at ${bar?.y}`,
    );
  }
  await page.setViewportSize({ width: 1280, height: 800 });
  await follow(page, 'Travel');
});
