// @ts-check
// Characters that turn the direction of writing: somebody enters a name and a
// note with them, and whoever reads or hears it is shown that they are there.
import assert from 'node:assert/strict';
import { afterEach, test } from 'node:test';
import { closeAll, openBrowser, useServer } from './setup.mjs';
import { follow, signIn } from './actions.mjs';

const service = useServer();
afterEach(closeAll);

test('a name with hidden turns of the direction of writing shows them everywhere', async () => {
  const { page, close, problems } = await openBrowser(await service.profile());
  await signIn(page, service.server.url, 'marit');
  await page.getByRole('link', { name: 'Heath Ellery' }).waitFor();
  const shown = 'Ash⟨U+202E⟩mle';
  await follow(page, 'New client');
  const name = page.getByLabel('Name', { exact: true });
  await name.fill('Ash\u202Emle');
  await page.getByText(`turn the direction of writing: ${shown}`).waitFor();
  assert.equal(await name.inputValue(), 'Ash\u202Emle', 'what was typed is kept as it is');
  await page.getByLabel('Service number').fill('H-9\u20661');
  await page.getByLabel('What the visitor must know').fill('left\u200Fright');
  await page.getByText('stable', { exact: true }).click();
  await page.getByRole('button', { name: /^Save/ }).click();
  await page.getByRole('heading', { level: 1, name: shown, exact: true }).waitFor();
  await page.getByText('left⟨U+200F⟩right').first().waitFor();
  await page.getByText('H-9⟨U+2066⟩1').first().waitFor();
  await follow(page, 'Today');
  await page.getByRole('searchbox').fill('Ash');
  await page.getByRole('link', { name: shown }).first().waitFor();
  for (const path of ['/', '/sync']) {
    await follow(page, path === '/' ? 'Today' : /^(Account|People)$/);
    const hidden = await page.evaluate(() => {
      const turns = /\p{Bidi_Control}/u;
      const texts = [...document.querySelectorAll('body *')].flatMap((one) => [
        ...[...one.childNodes].filter((node) => node.nodeType === Node.TEXT_NODE).map((node) => node.textContent ?? ''),
        ...[...one.attributes].map((attribute) => attribute.value),
      ]);
      return texts.filter((text) => turns.test(text));
    });
    assert.deepEqual(hidden, [], 'nothing on the page turns the direction unseen');
  }
  assert.deepEqual(problems, []);
  await close();
});
