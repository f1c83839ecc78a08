// @ts-check
// The page of all parts: each in its states, in each theme.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { troubles } from './looking.mjs';
import { openBrowser, sizes, useServer } from './setup.mjs';

const service = useServer();

test('nothing is wrong with any part in any theme and size, also with large text', async () => {
  const { page, close, problems } = await openBrowser(await service.profile());
  await page.emulateMedia({ reducedMotion: 'reduce' });
  await page.goto(`${service.server.url}/parts`);
  await page.getByRole('region', { name: 'Theme: Dark' }).waitFor();
  const found = /** @type {string[]} */ ([]);
  for (const text of ['100', '200']) {
    await page.evaluate((size) => {
      document.documentElement.dataset.text = size;
    }, text);
    for (const [size, box] of Object.entries(sizes)) {
      await page.setViewportSize(box);
      found.push(...(await troubles(page)).map((line) => `${size} at ${text} %: ${line}`));
    }
  }
  assert.deepEqual([...found, ...problems], []);
  await close();
});

test('a theme is what the device asks for until somebody chooses one', async () => {
  const { page, close, problems } = await openBrowser(await service.profile());
  const theme = (/** @type {string} */ want) => page.waitForFunction((one) => document.documentElement.dataset.theme === one, want);
  await page.emulateMedia({ colorScheme: 'dark' });
  await page.goto(`${service.server.url}/about`);
  await theme('dark');
  await page.emulateMedia({ colorScheme: 'light' });
  await theme('paper');
  await page.emulateMedia({ colorScheme: 'dark', contrast: 'more' });
  await theme('outdoor');
  await page.getByRole('group', { name: 'Theme' }).getByText('Light', { exact: true }).click();
  await theme('paper');
  await page.reload();
  await theme('paper');
  assert.deepEqual(problems, []);
  await close();
});

test('a service that is no demo does not show the parts', async () => {
  const { page, close, problems } = await openBrowser(await service.profile());
  await page.route('**/api/v1/session*', (route) => route.fulfill({ status: 401, json: { error: 'signed-out', message: 'Sign in.' } }));
  await page.goto(`${service.server.url}/parts`);
  await page.getByText('The parts are shown by a demo only.').waitFor();
  assert.equal(await page.getByRole('region', { name: /^Theme/ }).count(), 0);
  assert.deepEqual(problems, []);
  await close();
});
