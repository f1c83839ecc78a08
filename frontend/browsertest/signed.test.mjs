// @ts-check
// Whose word counts: every push is signed by its tablet's key, and what came in a
// file that nothing signed counts once its author, or the lead, says so.
import assert from 'node:assert/strict';
import { execFile } from 'node:child_process';
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { test } from 'node:test';
import { promisify } from 'node:util';
import { comesTo, follow, openVisit, pick, sendAll, signIn, thisTablet } from './actions.mjs';
import { client, item, part, pass, personId, refuse, useFaultyNetwork, visitId } from './fault.mjs';
import { binary, named, password } from './setup.mjs';

/** @typedef {import('playwright-core').Page} Page */

const network = useFaultyNetwork();

/** Nothing gets through but signing in. @type {import('./fault.mjs').Rule} */
const noPush = ({ method, path }) => (method === 'POST' && path === '/api/v1/events' ? refuse(503, 'busy') : { kind: 'pass' });

/** Sends a push from the page with another signature, or none. @param {Page} page @param {string} body @param {string} [signature] */
const forged = (page, body, signature) =>
  page.evaluate(
    async ([text, made]) => {
      const headers = { 'Content-Type': 'application/x-ndjson', ...(made === '' ? {} : { 'Doorsill-Signature': made }) };
      const answer = await fetch('/api/v1/events', { method: 'POST', headers, body: text });
      return `${answer.status} ${(await answer.json()).error ?? ''}`.trim();
    },
    [body, signature ?? ''],
  );

/**
 * Saves what waits to a file, takes the signatures off, and has the server take it in.
 * @param {Page} page
 */
async function importUnsigned(page) {
  await thisTablet(page);
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save what waits to a file' }).click(),
  ]);
  const file = join(await network.profile(), 'outbox.doorsill');
  await download.saveAs(file);
  const lines = (await readFile(file, 'utf8')).trim().split('\n');
  assert.ok(lines.every((line) => JSON.parse(line).signature.length === 88));
  await writeFile(file, lines.map((line) => `${JSON.stringify({ ...JSON.parse(line), signature: undefined })}\n`).join(''));
  await network.server.stop();
  const { stdout } = await promisify(execFile)(binary, ['import', file, '--data', network.server.data]);
  assert.match(stdout, /0 entries stored, 0 known already, [1-9]\d* set aside/);
  assert.match(stdout, /no tablet of their author signed them/);
  await network.again();
}

test('every push carries the signature of its tablet, and another one is refused', async () => {
  const { page, problems } = await network.tablet();
  const pushes = /** @type {{ body: string, signature: string }[]} */ ([]);
  page.on('request', (request) => {
    if (request.method() !== 'POST' || !request.url().endsWith('/api/v1/events')) return;
    pushes.push({ body: request.postData() ?? '', signature: request.headers()['doorsill-signature'] ?? '' });
  });
  await network.atVisit(page);
  await pick(page, part, item, '1');
  await sendAll(page);
  const last = pushes.at(-1) ?? assert.fail('nothing was pushed');
  assert.ok(
    pushes.every((one) => one.signature.length === 88),
    'each push is signed',
  );
  assert.equal(await forged(page, last.body, last.signature), '200');
  assert.equal(await forged(page, last.body), '403 unsigned');
  const other = `${last.signature[0] === 'A' ? 'B' : 'A'}${last.signature.slice(1)}`;
  assert.equal(await forged(page, last.body, other), '403 signature');
  assert.equal(await forged(page, last.body.replace('"at":"2', '"at":"3'), last.signature), '403 signature');
  assert.deepEqual(problems, []);
  await page.context().close();
});

test('what came unsigned counts once its author says so, and the lead speaks for who is gone', async () => {
  const tablet = await network.tablet();
  const { page } = tablet;
  await network.atVisit(page);
  const visit = visitId(page);
  const marit = await personId(page, network.server.url);
  network.proxy.rule = noPush;
  await pick(page, part, item, '2');
  await importUnsigned(page);
  assert.ok(!(await network.levelsOnServer(page, visit)).includes('2'), 'it does not count yet');

  // The author sees it on the tablet, where Today points to it, ticks it, and it
  // counts. What is set aside for other reasons and fills the first page keeps none
  // of it from sight.
  await page.route(/\/api\/v1\/quarantine\?state=open&after=0$/, (route) =>
    route.fulfill({ json: { entries: [], next: '00', more: true } }),
  );
  const mine = page.getByRole('region', { name: 'Did you write these?' });
  await follow(page, 'Today');
  await thisTablet(page);
  // What was asked while the server was away is given up after half a minute.
  await mine.waitFor({ timeout: 60_000 });
  await follow(page, 'Today');
  await page.getByRole('link', { name: 'Look at what came in your name' }).click();
  await mine.getByText(`${client}, visit of`).first().waitFor();
  await mine
    .getByText(new RegExp(`${item}: 2`))
    .first()
    .waitFor();
  await mine.getByText('The entry as it came').first().click();
  await mine.getByText('"item":"mnt-power"').waitFor();
  await mine.getByRole('link', { name: client, exact: true }).waitFor();
  await mine.getByRole('link', { name: item, exact: true }).waitFor();
  const count = mine.getByRole('button', { name: 'I wrote these: count them' });
  assert.equal(await count.isDisabled(), true, 'nothing is ticked to begin with');
  await mine.getByRole('button', { name: /^Tick all/ }).click();
  await count.click();
  await mine.waitFor({ state: 'detached' });
  await follow(page, 'Today');
  await page.getByLabel('Search by name or number').waitFor();
  await page.getByRole('link', { name: 'Look at what came in your name' }).waitFor({ state: 'detached' });
  await thisTablet(page);
  assert.ok((await network.levelsOnServer(page, visit)).includes('2'));

  // The tablet sends the same: it is known, and counts once.
  network.proxy.rule = pass;
  await sendAll(page);
  assert.equal((await network.levelsOnServer(page, visit)).filter((level) => level === '2').length, 1);
  assert.equal(await page.getByText('Set aside by the server').count(), 0);

  // Another one; then the author's account is closed, and the lead gives a reason.
  network.proxy.rule = noPush;
  await follow(page, 'Today');
  await openVisit(page, client);
  await pick(page, part, item, '3');
  await importUnsigned(page);
  const lead = await tablet.context.newPage();
  await signIn(lead, named(network.server.url), 'ilse');
  await lead.getByRole('link', { name: 'Look at what is set aside' }).click();
  await lead.getByRole('tab', { name: /Set aside \d/, selected: true }).waitFor();
  await lead.getByText('was not signed by the tablet that it names').first().waitFor();
  assert.equal(await lead.getByRole('button', { name: 'They wrote these: count them' }).count(), 0, 'the author is here to be asked');
  const desk = lead.request;
  const origin = new URL(lead.url()).origin;
  await closeAccount(network.server.url, marit);
  await lead.getByRole('tab', { name: /Tablets/ }).click();
  await lead.getByRole('tab', { name: /Set aside/ }).click();
  const theirs = lead.locator('section.refused').filter({ hasText: 'in the name of' });
  await theirs.getByRole('button', { name: /^Tick all/ }).click();
  await theirs.getByRole('button', { name: 'They wrote these: count them' }).click();
  await theirs.getByText('How you know it: write a sentence').waitFor();
  await theirs.getByLabel('How you know it').fill('She told me on the telephone.');
  await theirs.getByRole('button', { name: 'They wrote these: count them' }).click();
  await theirs.waitFor({ state: 'detached' });
  await comesTo(
    async () => {
      const { visit: got } = await (await desk.get(`${origin}/api/v1/visits/${visit}`)).json();
      const answer = got.answers.find((/** @type {{ item: string }} */ one) => one.item === 'mnt-power');
      return answer.heads.some((/** @type {{ level: string }} */ one) => one.level === '3');
    },
    true,
    'it counts on the lead’s word',
  );
  await lead.getByText('Settled, or taken in later').click();
  await lead.getByText('She told me on the telephone.').waitFor();
  await tablet.close();
});

/** The administrator closes somebody's account. @param {string} url @param {string} person */
async function closeAccount(url, person) {
  const signedIn = await fetch(`${url}/api/v1/session`, {
    method: 'POST',
    headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify({ name: 'perrin', password }),
  });
  const cookie = signedIn.headers
    .getSetCookie()
    .map((one) => one.split(';')[0])
    .join('; ');
  const list = await (await fetch(`${url}/api/v1/people`, { headers: { cookie } })).json();
  const one = list.people.find((/** @type {{ id: string }} */ row) => row.id === person);
  const answer = await fetch(`${url}/api/v1/people/${person}`, {
    method: 'PUT',
    headers: { 'Content-Type': 'application/json', cookie },
    body: JSON.stringify({
      name: one.name,
      credential: one.credential,
      admin: false,
      closed: true,
      teams: one.teams.map((/** @type {{ id: string, role: string }} */ { id, role }) => ({ id, role })),
    }),
  });
  assert.ok(answer.ok, await answer.text());
}
