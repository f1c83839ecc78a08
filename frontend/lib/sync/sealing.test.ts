import assert from 'node:assert/strict';
import { test } from 'node:test';
import { toBytes, toText } from '../bytes';
import { boundTo, ENVELOPE_FORMAT, envelopeStatement, fromBase64, toBase64, type Envelope } from '../crypto/envelope';
import { agree } from '../crypto/hpke';
import { StoreError } from '../errors';
import { createFakeServer } from '../../test/fake-server';
import { answerOn, newTablet, openClientOn, openTablet, startVisitOn, TEAM, type FakeTablet } from '../../test/tablet';
import { readSealed, sealSigned, type SealingDeps } from './sealing';
import { tabletKey } from './tablet-key';

/** An organisation's key pair, its public half on the tablet, and a way to open what was sealed to it. */
async function organisationOn(one: FakeTablet) {
  const pair = await crypto.subtle.generateKey({ name: 'ECDH', namedCurve: 'P-256' }, true, ['deriveBits']);
  const point = new Uint8Array(await crypto.subtle.exportKey('raw', pair.publicKey));
  await one.workspace.store.keepSecret('organisation', { id: 'key-1', key: toBase64(point) });
  return async (envelope: string): Promise<readonly string[]> => {
    const it = JSON.parse(envelope) as Envelope;
    const enc = fromBase64(it.enc);
    const { key, nonce } = await agree(pair.privateKey, enc, enc, point, toBytes(ENVELOPE_FORMAT));
    const opener = await crypto.subtle.importKey('raw', key, 'AES-GCM', false, ['decrypt']);
    const plain = await crypto.subtle.decrypt(
      { name: 'AES-GCM', iv: nonce, additionalData: boundTo(it.key, it) },
      opener,
      fromBase64(it.sealed),
    );
    return toText(new Uint8Array(plain)).split('\n').slice(0, -1);
  };
}

/** Whether the tablet's own key signed the envelope as it is. */
async function signedByTablet(one: FakeTablet, envelope: Envelope): Promise<boolean> {
  const half = (await tabletKey(one.workspace.store))?.public ?? '';
  const key = await crypto.subtle.importKey('raw', fromBase64(half), { name: 'Ed25519' }, false, ['verify']);
  return crypto.subtle.verify({ name: 'Ed25519' }, key, fromBase64(envelope.signature ?? ''), envelopeStatement(envelope));
}

const depsOf = (one: FakeTablet, now = '2026-03-02T10:00:00.000Z'): SealingDeps => ({
  store: one.workspace.store,
  person: one.person,
  tablet: one.tablet,
  now: () => new Date(now),
});

async function signedVisitOn(one: FakeTablet): Promise<string> {
  const visit = await startVisitOn(one, await openClientOn(one));
  await answerOn(one, visit, 'pos-pelvis', '3');
  await one.workspace.projections.write('visit-signed', visit, { level: 'practise', result: 'ab'.repeat(32), name: 'Invented Person' });
  return visit;
}

const kinds = (lines: readonly string[]) => lines.map((line) => (JSON.parse(line) as { readonly kind: string }).kind);

test('what was signed and not sent lies sealed beside the rows, and is exactly what the server gets', async () => {
  const server = createFakeServer(TEAM);
  const tablet = await newTablet(server);
  const open = await organisationOn(tablet);
  const visit = await signedVisitOn(tablet);
  await answerOn(tablet, visit, 'pos-trunk', '1'); // after the signature: not sealed yet
  await sealSigned(depsOf(tablet));
  const copies = await readSealed(tablet.workspace.store.db);
  assert.deepEqual(
    copies.map(({ from, to }) => [from, to]),
    [[1, 4]],
  );
  const lines = await open(copies[0]?.envelope ?? '');
  assert.deepEqual(kinds(lines), ['client-opened', 'visit-started', 'answer-given', 'visit-signed']);
  const envelope = JSON.parse(copies[0]?.envelope ?? '') as Envelope;
  assert.ok(await signedByTablet(tablet, envelope), 'and it is signed by the tablet');
  assert.equal(await signedByTablet(tablet, { ...envelope, person: 'somebody' }), false);
  await tablet.workspace.loop.now();
  assert.deepEqual(
    lines,
    [1, 2, 3, 4].map((n) => server.lines.get(`${tablet.tablet}:${n}`)),
  );
});

test('a second signature seals only what came since; sealing again changes nothing', async () => {
  const tablet = await newTablet(createFakeServer(TEAM));
  await organisationOn(tablet);
  await signedVisitOn(tablet);
  await sealSigned(depsOf(tablet));
  await signedVisitOn(tablet);
  await sealSigned(depsOf(tablet));
  const before = await readSealed(tablet.workspace.store.db);
  assert.deepEqual(
    before.map(({ from, to }) => [from, to]),
    [
      [1, 4],
      [5, 8],
    ],
  );
  await sealSigned(depsOf(tablet));
  assert.deepEqual(await readSealed(tablet.workspace.store.db), before);
});

test('a copy that a closed page did not make is made when the tablet is unlocked', async () => {
  const server = createFakeServer(TEAM);
  const tablet = await newTablet(server);
  await organisationOn(tablet);
  await signedVisitOn(tablet);
  tablet.workspace.close();
  const again = await openTablet(server, tablet);
  await again.workspace.sealSigned();
  assert.equal((await readSealed(again.workspace.store.db)).length, 1);
});

test('copies stay thirty days after the server has the entries, and longer when it was restored meanwhile', async () => {
  const server = createFakeServer(TEAM);
  const tablet = await newTablet(server);
  await organisationOn(tablet);
  await signedVisitOn(tablet);
  await sealSigned(depsOf(tablet));
  const copies = async () => {
    await tablet.workspace.loop.now();
    await sealSigned(depsOf(tablet));
    return (await readSealed(tablet.workspace.store.db)).length;
  };
  const days = async (count: number) => {
    for (let at = 0; at < count; at++) {
      server.now += 24 * 3_600_000;
      await tablet.workspace.loop.now();
    }
  };
  assert.equal(await copies(), 1);
  await days(29);
  assert.equal(await copies(), 1, 'a day before the thirty are over');
  server.restore('log-2');
  await days(30);
  assert.equal(await copies(), 1, 'they begin again with the new log');
  await days(3);
  assert.equal(await copies(), 0);
});

test('everything that waits can be put into a sealed file, signed or not', async () => {
  const tablet = await newTablet(createFakeServer(TEAM));
  await assert.rejects(
    tablet.workspace.sealOutbox(),
    (error: unknown) => error instanceof StoreError && /does not know your organisation/.test(error.message),
  );
  const open = await organisationOn(tablet);
  const visit = await startVisitOn(tablet, await openClientOn(tablet, 'Marrow Quillby'));
  await answerOn(tablet, visit, 'pos-pelvis', '3');
  const file = await tablet.workspace.sealOutbox();
  assert.equal(file.entries, 3);
  assert.equal(file.text.includes('Marrow'), false);
  assert.deepEqual(kinds(await open(file.text.trimEnd())), ['client-opened', 'visit-started', 'answer-given']);
});

test('more than a push may hold is cut into several envelopes', async () => {
  const tablet = await newTablet(createFakeServer(TEAM));
  const open = await organisationOn(tablet);
  const visit = await startVisitOn(tablet, await openClientOn(tablet));
  const note = 'x'.repeat(1_000_000);
  for (let at = 0; at < 4; at++) await tablet.workspace.projections.write('visit-noted', visit, { fields: { note: `${at}${note}` } });
  const envelopes = (await tablet.workspace.sealOutbox()).text.trimEnd().split('\n');
  assert.equal(envelopes.length, 2);
  assert.deepEqual(
    (await Promise.all(envelopes.map(open))).map((lines) => lines.length),
    [5, 1],
  );
});
