// @ts-check
// Nobody in, nothing lost: what lies on the disk, locking in the middle of a
// word, coming back by PIN and by passkey, and a forgotten password.
import assert from 'node:assert/strict';
import { execFile } from 'node:child_process';
import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterEach, test } from 'node:test';
import { promisify } from 'node:util';
import { closeAll, named, openBrowser, password, sizes, useServer } from './setup.mjs';
import { follow, keptOffline, lockTablet, setClock, signIn, tile } from './actions.mjs';

/** @typedef {import('playwright-core').Page} Page */

const service = useServer(async () => {
  url = named(service.server.url);
  profile = await service.profile();
});
/** @type {string} */
let url;
/** @type {string} */
let profile;
const client = 'Heath Ellery';
const secret = 'Quillon Marrowby';

afterEach(closeAll);

/** Every file below a folder. @param {string} folder @returns {Promise<Buffer[]>} */
async function filesIn(folder) {
  const names = await readdir(folder, { recursive: true, withFileTypes: true });
  return Promise.all(names.filter((one) => one.isFile()).map((one) => readFile(join(one.parentPath, one.name))));
}

/** Whether a word stands in any of the files, in any of the ways that a browser writes text. @param {Buffer[]} files @param {string} word */
function stands(files, word) {
  const little = Buffer.from(word, 'utf16le');
  const forms = [Buffer.from(word, 'utf8'), Buffer.from(word, 'latin1'), little, Buffer.from(little).swap16()];
  return files.some((file) => forms.some((form) => file.includes(form)));
}

/** Opens the notes of the open visit and types without leaving the field. @param {Page} page @param {string} text */
async function typeNote(page, text) {
  await follow(page, client);
  await follow(page, 'Go on with the open visit');
  await tile(page, 'Visit notes');
  const field = page.locator('textarea').first();
  await field.click();
  await field.pressSequentially(text);
  return field;
}

/** @param {Page} page */
const toAccount = async (page) => {
  // Within a visit the ways of the app are a step away.
  if (/\/visits\//.test(page.url())) await page.getByRole('link', { name: 'Today', exact: true }).click();
  await page.getByRole('link', { name: /^(Account|People)$/ }).click();
  await page.getByRole('heading', { name: 'Locking this tablet' }).waitFor();
};

test('the files of a filled tablet hold no name, answer or note', async () => {
  const tablet = await openBrowser(profile);
  const { page } = tablet;
  await signIn(page, url, 'marit');
  await page.getByRole('link', { name: client }).waitFor();
  await keptOffline(page);
  await typeNote(page, `${secret} likes the blue stick, zürnt Möbeln`);
  await page.getByRole('heading', { level: 1 }).click();
  await page.locator('.saved').filter({ hasText: 'Saved on this tablet' }).first().waitFor();
  // Controls, written open into the same database: the search must find them.
  const controls = Array.from({ length: 20 }, (_, at) => `planted-${at}-${Math.random().toString(36).slice(2)}`);
  await page.evaluate(
    (words) =>
      new Promise((resolve, reject) => {
        void indexedDB.databases().then((all) => {
          const name = all.map((one) => one.name ?? '').find((one) => one.startsWith('doorsill-'));
          const open = indexedDB.open(name ?? '');
          open.onerror = () => reject(open.error);
          open.onsuccess = () => {
            const tx = open.result.transaction(['meta'], 'readwrite', { durability: 'strict' });
            for (const word of words) tx.objectStore('meta').put({ key: word, text: word });
            tx.oncomplete = () => {
              open.result.close();
              resolve(undefined);
            };
          };
        });
      }),
    controls,
  );
  // What is looked for is in the store: the person who may read it sees it.
  assert.match(await page.locator('textarea').first().inputValue(), new RegExp(secret));
  await tablet.close();
  const files = await filesIn(join(profile, 'Default', 'IndexedDB'));
  assert.ok(files.length > 0);
  const found = controls.filter((word) => stands(files, word));
  assert.deepEqual(found, controls, 'the search finds what lies open');
  const words = [
    secret,
    'Marrowby',
    'blue stick',
    'zürnt',
    'Möbeln',
    client,
    'Heath',
    'Ellery',
    'Marit Ashgrove',
    'Ashgrove',
    'Sedge Conway',
    'pos-pelvis',
    'answered',
    'reading-taken',
    'visit-noted',
  ];
  assert.deepEqual(
    words.filter((word) => stands(files, word)),
    [],
  );
});

test('a note stays in its field while it is saved', async () => {
  const tablet = await openBrowser(profile);
  const { page } = tablet;
  await signIn(page, url, 'marit');
  const field = await typeNote(page, ', and the ramp');
  // What the page itself puts into the field from now on.
  const put = await field.evaluateHandle((element) => {
    const texts = /** @type {string[]} */ ([]);
    const { get, set } = Object.getOwnPropertyDescriptor(HTMLTextAreaElement.prototype, 'value') ?? {};
    Object.defineProperty(element, 'value', {
      get,
      set(/** @type {string} */ text) {
        texts.push(text);
        set?.call(element, text);
      },
    });
    return texts;
  });
  await page.getByRole('heading', { level: 1 }).click();
  await page.locator('.saved').filter({ hasText: 'Saved on this tablet' }).first().waitFor();
  await page.locator('.draft-line').waitFor({ state: 'detached' });
  const older = (await put.jsonValue()).filter((text) => !text.endsWith(', and the ramp'));
  assert.deepEqual(older, [], 'the field shows nothing older than what was typed');
  await tablet.close();
});

test('fault 27: a lock in the middle of a word takes everything off the page, and the PIN brings the word back', async () => {
  const tablet = await openBrowser(profile);
  const { page } = tablet;
  const debug = await page.context().newCDPSession(page);
  await signIn(page, url, 'marit');
  await toAccount(page);
  await page.getByText('PIN for today').click();
  await page.getByLabel('New PIN').fill('123');
  await page.getByRole('button', { name: 'Set the PIN' }).click();
  await page.getByText('expected 6 to 12 digits').waitFor();
  await page.getByLabel('New PIN').fill('204060');
  await page.getByRole('button', { name: 'Set the PIN' }).click();
  await page.getByText('brings you back for two hours').waitFor();
  await page.getByLabel(/^Lock when nobody/).selectOption('2');
  await page.getByText('It locks after 2 minutes').waitFor();
  await page.getByRole('link', { name: 'Today' }).click();
  await typeNote(page, ' and half a sente');

  // Nobody touches it: the clock says so, and the page comes back from the background.
  await page.evaluate(() => {
    const now = Date.now;
    Date.now = () => now() + 2 * 60_000 + 1_000;
    document.dispatchEvent(new Event('visibilitychange'));
  });
  assert.equal(await page.getByText(client).count(), 0, 'nothing of the client is left on the page at once');
  await page.getByRole('heading', { level: 1, name: 'Sign in' }).waitFor();
  await page.getByText('This tablet is locked').waitFor();
  assert.equal(await page.getByLabel('Name', { exact: true }).inputValue(), '', 'whose it is stands nowhere');
  assert.doesNotMatch(await page.title(), /notes/i);
  // The test is told of a worker's end a moment later.
  const engines = () => page.workers().filter((one) => /engine/.test(one.url()));
  await Promise.all(engines().map((one) => one.waitForEvent('close')));
  assert.equal(engines().length, 0, 'the engine has ended');

  // A wrong PIN is refused, the right one goes on at the very field.
  await page.getByLabel('PIN', { exact: true }).fill('999999');
  await page.getByRole('button', { name: 'Go on' }).click();
  await page.getByText('4 tries are left').waitFor();
  await page.getByLabel('PIN', { exact: true }).fill('204060');
  await page.getByRole('button', { name: 'Go on' }).click();
  await page.getByRole('heading', { level: 1, name: /notes/i }).waitFor();
  await page.waitForFunction(() => document.querySelector('textarea')?.value.endsWith('half a sente') === true);

  // After two hours the right PIN opens nothing either, and the page says why.
  await lockTablet(page);
  await setClock(page, 3 * 3_600_000);
  await page.getByLabel('PIN', { exact: true }).fill('204060');
  await page.getByRole('button', { name: 'Go on' }).click();
  await page.getByText('The PIN works for two hours. Sign in with your password.').waitFor();
  assert.equal(await page.getByLabel('PIN', { exact: true }).count(), 0);
  await page.getByLabel('Name', { exact: true }).fill('marit');
  await page.getByLabel('Password', { exact: true }).fill('over the door sill');
  await page.getByRole('button', { name: 'Sign in' }).click();
  await page.waitForFunction(() => document.querySelector('textarea')?.value.endsWith('half a sente') === true);
  await toAccount(page);
  await page.getByText('PIN for today').click();
  await page.getByLabel('New PIN').fill('204060');
  await page.getByRole('button', { name: 'Set the PIN' }).click();
  await page.getByText('brings you back for two hours').waitFor();

  // Five wrong PINs: the password is needed, and the keys are gone from memory.
  await lockTablet(page);
  for (const left of ['4 tries are', '3 tries are', '2 tries are', 'One try is']) {
    await page.getByLabel('PIN', { exact: true }).fill('000001');
    await page.getByRole('button', { name: 'Go on' }).click();
    await page.getByText(`${left} left`).waitFor();
  }
  await page.getByLabel('PIN', { exact: true }).fill('000001');
  await page.getByRole('button', { name: 'Go on' }).click();
  await page.getByText('That was the fifth wrong PIN. Sign in with your password; nothing is lost.').waitFor();
  assert.equal(await page.getByLabel('PIN', { exact: true }).count(), 0);
  const { result } = await debug.send('Runtime.evaluate', { expression: 'CryptoKey.prototype' });
  const { objects } = await debug.send('Runtime.queryObjects', { prototypeObjectId: result.objectId ?? '' });
  const { result: count } = await debug.send('Runtime.callFunctionOn', {
    objectId: objects.objectId ?? '',
    functionDeclaration: 'function () { return this.length; }',
    returnByValue: true,
  });
  assert.equal(count.value, 0, 'no key is left in the page’s memory');
  assert.deepEqual(tablet.problems, []);
  await tablet.close();
});

/** A device that makes passkeys, as the browser's debugger plays it. @param {Page} page @param {boolean} [hasPrf] they can unlock */
async function authenticator(page, hasPrf = true) {
  const debug = await page.context().newCDPSession(page);
  await debug.send('WebAuthn.enable');
  const options = /** @type {const} */ ({
    protocol: 'ctap2',
    ctap2Version: 'ctap2_1',
    transport: 'internal',
    hasResidentKey: true,
    hasUserVerification: true,
    isUserVerified: true,
    hasPrf,
    automaticPresenceSimulation: true,
  });
  const { authenticatorId } = await debug.send('WebAuthn.addVirtualAuthenticator', { options });
  return { debug, authenticatorId };
}

test('a new tablet offers a PIN in sight', async () => {
  const { page } = await openBrowser(await service.profile());
  await page.goto(url);
  await page.getByLabel('Name', { exact: true }).fill('marit');
  await page.getByLabel('Password', { exact: true }).fill(password);
  await page.getByRole('button', { name: 'Sign in', exact: true }).click();
  const offer = page.getByText('PIN for today');
  await offer.waitFor();
  for (const box of Object.values(sizes)) {
    await page.setViewportSize(box);
    const [at, foot] = await Promise.all([offer.boundingBox(), page.locator('.page-foot').boundingBox()]);
    assert.ok(at && foot && at.y + at.height <= foot.y, `${box.width} wide: it stands above what stays at the bottom edge`);
  }
});

test('a passkey opens the tablet without a network', async () => {
  let tablet = await openBrowser(profile);
  let { page } = tablet;
  const device = await authenticator(page);
  await signIn(page, url, 'marit');
  await toAccount(page);
  await page.getByText('Passkey', { exact: true }).click();
  await page.getByLabel('Your password').fill('over the wrong sill');
  await page.getByRole('button', { name: 'Make a passkey' }).click();
  await page.getByText('do not open this tablet').waitFor();
  await page.getByLabel('Your password').fill('over the door sill');
  await page.getByRole('button', { name: 'Make a passkey' }).click();
  await page.getByText('The passkey opens this tablet').waitFor();
  await keptOffline(page);

  // It opens what is its person's own, also where somebody else was at the tablet last.
  await lockTablet(page);
  await signIn(page, url, 'ilse');
  await toAccount(page);
  await page.getByText('With a passkey this device’s own lock').waitFor({ state: 'attached' });
  await lockTablet(page);
  await page.getByRole('button', { name: 'Open with a passkey' }).click();
  await toAccount(page);
  await page.getByText('1 passkey opens').waitFor({ state: 'attached' });
  await page.getByText('Marit Ashgrove').first().waitFor();
  await service.server.stop();

  // A cold start of the app, with no server; the device that holds the passkey stays.
  await page.goto('about:blank');
  await page.goto(url);
  await page.getByRole('button', { name: 'Open with a passkey' }).click();
  await page.getByRole('link', { name: client }).waitFor();
  // The browser itself starts anew. Its debugger gives the passkey's signing key
  // out, but not the secret behind it, so the copy on the other device opens
  // nothing: that is said, and the password opens the tablet as before.
  const { credentials } = await device.debug.send('WebAuthn.getCredentials', { authenticatorId: device.authenticatorId });
  assert.equal(credentials.length, 1);
  await tablet.close();
  tablet = await openBrowser(profile);
  page = tablet.page;
  const copy = await authenticator(page);
  for (const credential of credentials)
    await copy.debug.send('WebAuthn.addCredential', { authenticatorId: copy.authenticatorId, credential });
  await page.goto(url);
  await page.getByRole('button', { name: 'Open with a passkey' }).click();
  await page.getByText('The passkey was not used. Nothing was changed; try again, or use your password.').waitFor();
  await signIn(page, url, 'marit');
  await toAccount(page);
  await page.getByText('Passkey', { exact: true }).click();
  await page.getByText('1 passkey opens').waitFor();
  await page.getByRole('button', { name: 'Remove the passkeys' }).click();
  await page.getByText('No passkey opens').waitFor();

  // A device whose passkeys cannot unlock: that is said, and why the password is asked for.
  await copy.debug.send('WebAuthn.removeVirtualAuthenticator', { authenticatorId: copy.authenticatorId });
  await authenticator(page, false);
  await page.getByLabel('Your password').fill('over the door sill');
  await page.getByRole('button', { name: 'Make a passkey' }).click();
  await page.getByText('none that can unlock the tablet. Your password works as before.').waitFor();
  await lockTablet(page);
  await page.getByText('There is no PIN for this session, or it is used up, so the password opens it.').waitFor();
  await page.getByRole('heading', { level: 1, name: 'Sign in' }).waitFor();
  await page.reload();
  await page.getByLabel('Password', { exact: true }).waitFor();
  assert.equal(await page.getByRole('button', { name: 'Open with a passkey' }).count(), 0);
  assert.deepEqual(tablet.problems, []);
  await tablet.close();
  await service.again();
});

test('what waits goes into a sealed file that the server takes in', async () => {
  const tablet = await openBrowser(profile);
  const { page } = tablet;
  await signIn(page, url, 'marit');
  await page.getByRole('link', { name: client }).waitFor();
  await service.server.stop();
  await typeNote(page, ` ${'never sent'}`);
  await page.getByRole('heading', { level: 1 }).click();
  await page.locator('.saved').filter({ hasText: 'Saved on this tablet' }).first().waitFor();
  await page.locator('.top-sync').click();
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save what waits to a file' }).click(),
  ]);
  const file = join(profile, 'outbox.doorsill');
  await download.saveAs(file);
  assert.equal(stands([await readFile(file)], 'never sent'), false);
  const binary = join(import.meta.dirname, '..', '..', 'bin', 'doorsill');
  const { stdout } = await promisify(execFile)(binary, ['import', file, '--data', service.server.data]);
  assert.match(stdout, /^\d+ envelopes?: [1-9]\d* entr(y|ies) stored, 0 known already, 0 set aside/);
  await service.again();
  // The tablet sends the same once more by itself, and the server knows it.
  const button = page.getByRole('button', { name: 'Send and fetch now' });
  await button.click();
  await page.getByText('0 entries', { exact: true }).waitFor();
  await tablet.close();
});
