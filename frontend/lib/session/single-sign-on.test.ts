import assert from 'node:assert/strict';
import { test } from 'node:test';
import { StoreError, type StoreErrorCode } from '../errors';
import { newBrowser, on, twoPeople, type FakeBrowser } from '../../test/browser';
import { openClientOn } from '../../test/tablet';
import type { SignedIn } from './session';
import type { Engine } from '../engine/engine';
import { arrival, openWithSingleSignOn, startAddress, tooEasy } from './single-sign-on';

const code = (want: StoreErrorCode) => (error: unknown) => error instanceof StoreError && error.code === want;
const own = 'nine quiet lamps';

/** What the screen does with a tablet password. */
async function open(browser: FakeBrowser, password: string, forgotten = false): Promise<SignedIn> {
  const who = await arrival(browser.deps);
  assert.ok(who, 'somebody waits to open the tablet');
  return openWithSingleSignOn(browser.deps, who, password, forgotten);
}

test('whoever comes by the organisation chooses a tablet password, and it opens the tablet without a network', async () => {
  const browser = newBrowser(twoPeople());
  assert.deepEqual(await arrival(browser.deps).catch((error: StoreError) => error.code), 'sign-in', 'nobody has come yet');
  browser.provider.who = 'ann';
  const who = await arrival(browser.deps);
  assert.deepEqual({ ...who, teams: undefined }, { login: 'ann', name: 'Name of ann', teams: undefined, known: false });
  const first = await open(browser, own);
  assert.equal(first.session.online, true);
  await openClientOn(on(first), 'Invented Client');
  await first.workspace.close();
  assert.equal((await arrival(browser.deps))?.known, true);

  browser.net.down = true;
  const again = await browser.signIn('ann', own);
  assert.equal(again.session.tablet, first.session.tablet);
  assert.equal(again.workspace.projections.clients.value[0]?.name, 'Invented Client');
  assert.deepEqual(
    browser.sent.filter((body) => body.includes(own)),
    [],
    'no tablet password leaves the tablet',
  );
});

test('a page that is closed in the middle loses nothing: it goes on where it was', async () => {
  let dies = true;
  const browser = newBrowser(twoPeople());
  const { openWorkspace } = browser.deps;
  const deps = {
    ...browser.deps,
    openWorkspace: (who: Parameters<typeof openWorkspace>[0]) =>
      dies ? Promise.reject(new Error('the page is closed')) : openWorkspace(who),
  };
  browser.provider.who = 'ann';
  browser.net.down = true;
  await assert.rejects(openWithSingleSignOn(deps, { login: 'ann', name: '', teams: [], known: false }, own), code('offline'));
  browser.net.down = false;
  assert.equal((await arrival(deps))?.known, false, 'without a network no keys were made');
  const who = await arrival(deps);
  assert.ok(who);
  await assert.rejects(openWithSingleSignOn(deps, who, own), /the page is closed/);
  dies = false;
  const later = await arrival(deps);
  assert.equal(later?.known, true, 'the keys are there, so the password is asked for');
  const opened = await openWithSingleSignOn(deps, later, own);
  await openClientOn(on(opened));
  assert.equal(await opened.workspace.store.number('n'), 1);
  assert.ok(browser.tablets.has(opened.session.tablet));
});

test('who has rows here opens them with the password that they are under, whoever made it', async () => {
  const browser = newBrowser(twoPeople());
  const first = await browser.signIn('ann', 'over the sill');
  await openClientOn(on(first));
  await first.workspace.close();
  browser.provider.who = 'ann';
  assert.equal((await arrival(browser.deps))?.known, true);
  await assert.rejects(open(browser, own), code('password'));
  const opened = await open(browser, 'over the sill');
  assert.equal(opened.session.tablet, first.session.tablet);
  assert.equal(opened.workspace.projections.clients.value.length, 1);
});

test('wrong tablet passwords make one wait, as other passwords do', async () => {
  const browser = newBrowser(twoPeople());
  browser.provider.who = 'ann';
  await (await open(browser, own)).workspace.close();
  let refused: unknown = null;
  for (let tries = 0; tries < 10 && !code('wait')(refused); tries++) {
    refused = await open(browser, 'not the password').then(
      () => null,
      (error: unknown) => error,
    );
  }
  assert.ok(code('wait')(refused));
  await assert.rejects(open(browser, own), code('wait'), 'the right one has to wait as well');
  browser.net.at += 3_600_000;
  await open(browser, own);
});

test('a tablet password that is not known puts its rows away and begins new ones', async () => {
  const browser = newBrowser(twoPeople());
  browser.provider.who = 'ann';
  const first = await open(browser, own);
  await openClientOn(on(first));
  await first.workspace.close();
  const second = await open(browser, 'nine other lamps', true);
  assert.equal(second.workspace.projections.clients.value.length, 0);
  assert.notEqual(second.session.tablet, first.session.tablet);
  await second.workspace.close();
  const rows = await browser.keyStore.all();
  assert.deepEqual(
    rows.map((row) => row.tablet).sort(),
    [first.session.tablet, second.session.tablet].sort(),
    'what was locked is still here',
  );
  assert.equal((await open(browser, 'nine other lamps')).session.tablet, second.session.tablet);
});

test('with a network, name and tablet password open the tablet, and the server is not told them', async () => {
  const people = twoPeople();
  const browser = newBrowser(people);
  browser.provider.who = 'ann';
  const first = await open(browser, own);
  await openClientOn(on(first));
  await first.workspace.close();
  browser.provider.who = '';
  const before = browser.sent.length;
  const opened = await browser.signIn('ann', own);
  assert.equal(opened.workspace.projections.clients.value.length, 1);
  assert.equal(opened.session.online, false);
  assert.equal(browser.sent.slice(before).filter((body) => body.includes('password')).length, 0);
  await opened.workspace.close();

  // The organisation's sign-in is given up: from now on the server's password opens it.
  await assert.rejects(browser.signIn('ann', 'over the sill'), code('changed-password'));
  const moved = await browser.signIn('ann', 'over the sill', { oldPassword: own });
  assert.equal(moved.workspace.projections.clients.value.length, 1);
  await moved.workspace.close();
  assert.equal((await browser.signIn('ann', 'over the sill')).session.online, true);
});

test('a session that ended or is another person’s opens nothing; a network that went does not matter', async () => {
  const browser = newBrowser(twoPeople());
  browser.provider.who = 'ann';
  await (await open(browser, own)).workspace.close();
  const who = await arrival(browser.deps);
  assert.ok(who);
  browser.provider.who = 'ben';
  await assert.rejects(openWithSingleSignOn(browser.deps, who, own), code('sign-in'));
  browser.net.down = true;
  await assert.rejects(openWithSingleSignOn(browser.deps, who, 'not the password'), code('password'));
  await assert.rejects(openWithSingleSignOn(browser.deps, who, own, true), code('offline'), 'nothing is begun anew without the server');
  assert.equal((await openWithSingleSignOn(browser.deps, who, own)).session.online, false);
});

test('the way to the provider names the tablet where only one person has rows on it', async () => {
  const browser = newBrowser(twoPeople());
  assert.equal(await startAddress(browser.deps, '/start'), '/start');
  const ann = await browser.signIn('ann', 'over the sill');
  await ann.workspace.close();
  assert.equal(await startAddress(browser.deps, '/start'), `/start?tablet=${ann.session.tablet}`);
  await (await browser.signIn('ben', 'under the lintel')).workspace.close();
  assert.equal(await startAddress(browser.deps, '/start'), '/start');
});

test('the program is asked once about a new tablet password, with who and where, and ends', async () => {
  const who = { login: 'ann', name: 'Name of ann', teams: ['North'], known: false };
  const asked: unknown[] = [];
  let running = 0;
  const program = (answer: () => Promise<unknown>): Engine => {
    running++;
    return {
      ask: (op: string, question: unknown) => {
        asked.push([op, question]);
        return answer();
      },
      stop: () => running--,
    } as unknown as Engine;
  };
  const bad = { code: 'invalid', path: 'password', want: 'something that is harder to guess', got: '' };
  assert.equal(
    await tooEasy(
      program(() => Promise.resolve(null)),
      who,
      own,
      'rehab.example',
    ),
    undefined,
  );
  assert.match(
    (await tooEasy(
      program(() => Promise.resolve(bad)),
      who,
      own,
      'rehab.example',
    )) ?? '',
    /harder to guess/,
  );
  await assert.rejects(
    tooEasy(
      program(() => Promise.reject(new Error('it did not start'))),
      who,
      own,
      'rehab.example',
    ),
    /did not start/,
  );
  assert.equal(running, 0, 'what had the password in its memory is gone');
  assert.deepEqual(asked[0], ['check-password', { password: own, context: ['Name of ann', 'ann', 'rehab.example', 'North'] }]);
});
