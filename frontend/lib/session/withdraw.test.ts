import assert from 'node:assert/strict';
import { test } from 'node:test';
import { createHttp } from '../api/http';
import { StoreError, type StoreErrorCode } from '../errors';
import { newBrowser, on, twoPeople } from '../../test/browser';
import { createFakeServer } from '../../test/fake-server';
import { openClientOn, TEAM } from '../../test/tablet';
import { clearTablet } from './withdraw';

const code = (want: StoreErrorCode) => (error: unknown) => error instanceof StoreError && error.code === want;
const organisation = { id: 'key-1', key: 'BP7asxglGRalRpAIZUVSop1swVec2AbScVjcOGI2t9P8f/s3nftO9+7/7tp7b2PVREct0K7LLIkPXbChS637Axk=' };

test('a withdrawn tablet sends, says that it is clear and forgets; what it cannot send it keeps', async () => {
  const told: string[] = [];
  const people = twoPeople();
  const server = createFakeServer(TEAM);
  const browser = newBrowser(people, { server });
  const signed = await browser.signIn('ann', 'over the sill');
  await openClientOn(on(signed));
  const http = createHttp(async (input) => {
    told.push(String(input));
    return new Response(null, { status: 204 });
  });
  const deps = { http, keyStore: browser.keyStore, workspace: signed.workspace, who: signed.who, notices: () => () => undefined };
  browser.net.down = true;
  assert.equal(await clearTablet(deps), 'kept');
  assert.equal(told.length, 0, 'it did not say that it is clear');
  assert.equal(signed.workspace.state.value.waiting, 1);
  assert.ok(await browser.keyStore.find('ann'));
  browser.net.down = false;
  assert.equal(await clearTablet(deps), 'cleared');
  assert.equal(server.lines.size, 1);
  const path = `/api/v1/tablets/${signed.session.tablet}/cleared`;
  assert.deepEqual(told, [path, `${path}?storage=unused`], 'nobody else is here, so the browser may take all of it away');
  assert.equal(await browser.keyStore.find('ann'), undefined);
  const left = await indexedDB.databases();
  assert.equal(
    left.some((one) => one.name === `doorsill-${signed.session.person.id}`),
    false,
  );
});

/** Every value that is put into any database while work runs, and how: the browser's own word on durability. */
async function watchPuts(work: () => Promise<unknown>) {
  const { put } = IDBObjectStore.prototype;
  const puts: { readonly store: string; readonly row: Record<string, unknown>; readonly durability: string }[] = [];
  IDBObjectStore.prototype.put = function (this: IDBObjectStore, ...given) {
    const [row] = structuredClone(given) as [Record<string, unknown>];
    puts.push({ store: this.name, row, durability: this.transaction.durability });
    return put.apply(this, given);
  };
  await work().finally(() => {
    IDBObjectStore.prototype.put = put;
  });
  return puts;
}

test('what a withdrawn tablet forgets is overwritten first: wrapped keys and every box of its rows', async () => {
  const people = twoPeople();
  const browser = newBrowser(people, { organisation });
  const ben = await browser.signIn('ben', 'under the lintel');
  await ben.workspace.close();
  const signed = await browser.signIn('ann', 'over the sill');
  const client = await openClientOn(on(signed));
  signed.workspace.drafts.keep('typed:/x', 'half a word');
  await signed.workspace.loop.now();
  const keys = await browser.keyStore.find('ann');
  const stores = ['events', 'subjects', 'meta', 'drafts'] as const;
  const boxes = (
    await signed.workspace.store.db.read(stores, (tx) => Promise.all(stores.map((store) => tx.objectStore(store).getAll())))
  ).flatMap((rows) => rows.flatMap(({ key, box }) => (box === undefined ? [] : [{ key, box }])));
  assert.ok(keys && boxes.some((one) => one.key === client) && boxes.some((one) => one.key === 'typed:/x'));
  const told: string[] = [];
  const http = createHttp(async (input) => {
    told.push(String(input));
    return new Response(null, { status: 204 });
  });
  const deps = { http, keyStore: browser.keyStore, workspace: signed.workspace, who: signed.who, notices: () => () => undefined };
  const puts = await watchPuts(async () => assert.equal(await clearTablet(deps), 'cleared'));
  const over = (key: string, size: number, of: (row: Record<string, unknown>) => unknown, was: Uint8Array) =>
    puts.some(({ row, durability }) => {
      const now = row['key'] === key ? of(row) : undefined;
      return now instanceof Uint8Array && now.length === size && durability === 'strict' && !now.every((byte, at) => byte === was[at]);
    });
  assert.ok(
    over(keys.key, keys.wrapped.length, (row) => row['wrapped'], keys.wrapped),
    'the wrapped root key',
  );
  for (const [at, data] of (keys.data ?? []).entries())
    assert.ok(
      over(keys.key, data.length, (row) => (row['data'] as readonly unknown[])[at], data),
      'the data key',
    );
  // The root moves to the end, with each change.
  for (const { key, box } of boxes.filter((one) => one.key !== 'root'))
    assert.ok(
      over(key, box.length, (row) => row['box'], box),
      key,
    );
  assert.deepEqual(
    told.filter((one) => one.includes('storage')),
    [],
    'somebody else has rows here',
  );
  assert.ok(await browser.keyStore.find('ben'));
  await (await browser.signIn('ben', 'under the lintel')).workspace.close();
});

test('the server is never sent a key of the tablet, wrapped or not: it has none to forget', async () => {
  const people = twoPeople();
  const browser = newBrowser(people, { organisation });
  const first = await browser.signIn('ann', 'over the sill');
  await openClientOn(on(first));
  await first.workspace.loop.now();
  await first.workspace.close();
  const before = await browser.keyStore.find('ann');
  people.ann.password = 'a new door';
  const opened = await browser.signIn('ann', 'a new door', { oldPassword: 'over the sill' });
  await opened.workspace.loop.now();
  await opened.workspace.close();
  const after = await browser.keyStore.find('ann');
  assert.ok(
    before &&
      after &&
      browser.sent.some((body) => body.includes('a new door')) &&
      browser.sent.some((body) => body.includes('client-opened')),
  );
  const secrets = [before, after].flatMap(({ wrapped, data = [], params }) => [wrapped, ...data, params.salt]);
  const forms = secrets.flatMap((one) => {
    const bytes = Buffer.from(one);
    return [bytes.toString('base64').replace(/=+$/, ''), bytes.toString('base64url'), bytes.toString('hex'), Array.from(bytes).join(',')];
  });
  for (const body of browser.sent) for (const form of forms) assert.equal(body.includes(form), false, 'a key in what was sent');
});

test('the header of a withdrawn tablet is noticed on any answer', async () => {
  let noticed = 0;
  const http = createHttp(
    async () =>
      new Response('{"error":"tablet-revoked","message":"m"}', {
        status: 403,
        headers: { 'Content-Type': 'application/json', 'Doorsill-Tablet': 'revoked' },
      }),
    () => {
      noticed += 1;
    },
  );
  await assert.rejects(http({ method: 'GET', path: '/x' }), code('refused'));
  assert.equal(noticed, 1);
});
