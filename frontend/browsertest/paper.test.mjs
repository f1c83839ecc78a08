// @ts-check
// The paper of a level is for a folder: a few pages that say what was decided and why.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { openBrowser, useServer } from './setup.mjs';
import { follow, signIn } from './actions.mjs';

const here = useServer();

/** @param {import('playwright-core').Page} page */
async function pagesOf(page) {
  const pdf = await page.pdf({ format: 'A4', margin: { top: '12mm', bottom: '12mm', left: '12mm', right: '12mm' } });
  return (pdf.toString('latin1').match(/\/Type\s*\/Page\b/g) ?? []).length;
}

test('a level prints on a few pages, with the cautions and without what is closed', async () => {
  const { page } = await openBrowser(await here.profile());
  await signIn(page, here.server.url, 'marit');
  await follow(page, 'Heath Ellery');
  await follow(page, /visit map|go on|open visit/i);
  await page.getByRole('heading', { level: 1, name: 'Visit map' }).waitFor();
  await follow(page, 'Level');
  await page.locator('.level-says').waitFor();
  const short = await pagesOf(page);
  assert.ok(short >= 2 && short <= 6, `${short} pages`);
  await page.emulateMedia({ media: 'print' });
  for (const [words, printed] of /** @type {const} */ ([
    ['They have not been scientifically validated.', true],
    ['not met', true],
    ['All figures behind this', false],
    ['Limits used, with source and status', false],
  ]))
    assert.equal(await page.getByText(words).first().isVisible(), printed, words);
  await page.emulateMedia({ media: 'screen' });
  await page.getByText('Cautions, limits used and their sources').click();
  await page.getByText('Limits used, with source and status').click();
  await page.getByRole('columnheader', { name: 'Source' }).waitFor();
  assert.ok((await pagesOf(page)) > short, 'what is opened prints');
});
