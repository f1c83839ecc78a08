import assert from 'node:assert/strict';
import { test } from 'node:test';
import { createFakeServer } from '../../test/fake-server';
import { answerOn, newTablet, openClientOn, openTablet, startVisitOn, TEAM } from '../../test/tablet';
import { toBytes, type Bytes } from '../bytes';
import { fromBase64 } from '../crypto/envelope';
import { keyStatement, pushStatement, type PublicKey } from '../crypto/signing';
import { makeTabletKey, tabletKey } from './tablet-key';

async function verified(key: PublicKey, statement: Bytes, signature: string): Promise<boolean> {
  const way = { name: 'Ed25519' };
  const made = await crypto.subtle.importKey('raw', fromBase64(key.public), way, false, ['verify']);
  return crypto.subtle.verify(way, made, fromBase64(signature), statement);
}

async function visitOn() {
  const server = createFakeServer(TEAM);
  const firsts: string[] = [];
  const inner = server.fetch;
  // The first line of each push, as it was sent.
  const seen = {
    ...server,
    fetch: ((input, init) => {
      if (String(input) === '/api/v1/events') firsts.push(new TextDecoder().decode(init?.body as Uint8Array).split('\n')[0] ?? '');
      return inner(input, init);
    }) as typeof fetch,
  };
  const tablet = await newTablet(seen);
  const visit = await startVisitOn(tablet, await openClientOn(tablet));
  return { server, tablet, visit, firsts };
}

test('the server is told the key before the first push, and every push is signed with it', async () => {
  const { server, tablet, visit, firsts } = await visitOn();
  await tablet.workspace.loop.now();
  await answerOn(tablet, visit, 'pos-head', '3');
  await tablet.workspace.loop.now();
  const key = server.keys.get(tablet.tablet) as (PublicKey & { proof: string }) | undefined;
  assert.ok(key !== undefined && key.algorithm === 'Ed25519');
  assert.ok(await verified(key, keyStatement(tablet.tablet, key), key.proof));
  assert.equal(server.signatures.length, 2);
  for (const [at, signature] of server.signatures.entries()) {
    assert.ok(await verified(key, pushStatement(toBytes(firsts[at] ?? '')), signature ?? ''));
  }
});

test('a tablet keeps its key, also over a restart, and tells a restored server again', async () => {
  const { server, tablet, visit } = await visitOn();
  await tablet.workspace.loop.now();
  const first = server.keys.get(tablet.tablet)?.public;
  await tablet.workspace.close();
  const again = await openTablet(server, tablet);
  server.restore('log-2');
  await answerOn(again, visit, 'pos-head', '3');
  await again.workspace.loop.now();
  assert.equal(server.keys.get(tablet.tablet)?.public, first);
  assert.equal(server.entries.length, 3);
});

test('a server that has no key of the tablet after all is told with the next sending', async () => {
  const { server, tablet, visit } = await visitOn();
  await tablet.workspace.loop.now();
  server.keys.clear();
  server.faults.push('unsigned');
  await answerOn(tablet, visit, 'pos-head', '3');
  await tablet.workspace.loop.now();
  assert.equal(tablet.workspace.state.value.error?.code, 'refused');
  assert.equal(tablet.workspace.state.value.waiting, 1);
  await tablet.workspace.loop.now();
  assert.ok(server.keys.has(tablet.tablet));
  assert.equal(tablet.workspace.state.value.waiting, 0);
});

test('the private half lies sealed, and two tabs make one key', async () => {
  const { tablet } = await visitOn();
  const { store } = tablet.workspace;
  await Promise.all([makeTabletKey(store), makeTabletKey(store)]);
  const key = await tabletKey(store);
  const row = await store.db.read(['meta'], (tx) => tx.objectStore('meta').get('tablet-key'));
  assert.deepEqual(Object.keys(row ?? {}).sort(), ['box', 'key']);
  const text = new TextDecoder('latin1').decode(row?.box);
  assert.ok(key !== undefined && !text.includes(key.public) && !text.includes('pair'));
  assert.equal((await tabletKey(store))?.public, key.public);
});

test('a key that does not open is not replaced: the server knows no other', async () => {
  const { server, tablet, visit } = await visitOn();
  await tablet.workspace.loop.now();
  const { store } = tablet.workspace;
  const broken = new Uint8Array(64);
  await store.db.write(['meta'], (tx) => tx.objectStore('meta').put({ key: 'tablet-key', box: broken }));
  await answerOn(tablet, visit, 'pos-head', '3');
  await tablet.workspace.loop.now();
  assert.equal(server.signatures.at(-1), null);
  const row = await store.db.read(['meta'], (tx) => tx.objectStore('meta').get('tablet-key'));
  assert.deepEqual(row?.box, broken);
});

test('a key that this browser cannot use keeps nothing from being sent: the server says what it wants', async () => {
  const { server, tablet } = await visitOn();
  const { store } = tablet.workspace;
  await store.keepSecret('tablet-key', { pair: { algorithm: 'Ed25519', public: 'AAAA', private: 'AAAA' } });
  await tablet.workspace.loop.now();
  assert.equal(tablet.workspace.state.value.waiting, 0);
  assert.deepEqual([server.signatures.at(-1), server.keys.size], [null, 0]);
});
