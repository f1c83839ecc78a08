// @ts-check
// Clocks that are wrong, and clocks that are put right in the middle.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { item, part, pass, useFaultyNetwork, visitId } from './fault.mjs';
import { itemCard, pick, sendAll, setClock, touch } from './actions.mjs';

const network = useFaultyNetwork();

const DAY = 86_400_000;

test('fault 22: a clock ten years on, then a day back, then right', async () => {
  const { page, context, problems } = await network.tablet();
  await network.atVisit(page);
  const visit = visitId(page);

  // No network; the clock jumps between two answers to one item.
  network.proxy.rule = ({ path }) => (path.startsWith('/api/') ? { kind: 'cut' } : { kind: 'pass' });
  await setClock(page, 3653 * DAY);
  await pick(page, part, item, '4');
  await setClock(page, -DAY);
  await touch(page, item, '1');
  await itemCard(page, item).locator('.saved').filter({ hasText: 'Saved on this tablet' }).waitFor();
  await itemCard(page, item).locator('input[value="1"]:checked').waitFor();

  // The oldest entry lies in the future: nobody knows since when, so it is said.
  await page.locator('.red-line').getByText('only on this tablet since a time when its clock was off').waitFor();

  // The server answers: the difference is shown with what it does; the last word stands.
  network.proxy.rule = pass;
  await sendAll(page);
  await page.locator('.banner').filter({ hasText: 'This tablet’s clock is 24 hours behind' }).waitFor();
  assert.deepEqual(await network.levelsOnServer(page, visit), ['1']);

  // The session lives on, and a clock that is right again is no longer mentioned.
  await setClock(page, 3653 * DAY);
  await page.getByRole('button', { name: 'Send and fetch now' }).click();
  await page.locator('.banner').filter({ hasText: 'This tablet’s clock is 10 years ahead' }).waitFor();
  await setClock(page, 0);
  await page.getByRole('button', { name: 'Send and fetch now' }).click();
  await page.locator('.banner').filter({ hasText: 'This tablet’s clock' }).waitFor({ state: 'detached' });
  await page.goBack();
  await itemCard(page, item).locator('input[value="1"]:checked').waitFor();
  assert.deepEqual(problems, []);
  await context.close();
});
