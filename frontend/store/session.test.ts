import 'fake-indexeddb/auto';
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { createFakeServer, type FakeServer } from '../test/fake-server';
import { fakeWorld, openClientOn, TEAM, type FakeTablet } from '../test/tablet';
import { newId } from './bytes';
import { createDatabase } from './db';
import { createDeriver } from './derive';
import { openDesk } from './desk';
import { StoreError, type StoreErrorCode } from './errors';
import { createHttp, type Http } from './http';
import { createKeepers } from './keepers';
import { keeperPlan } from './rows';
import { signInWith, type SessionDeps, type SignedIn } from './session';

interface Account {
  password: string;
  readonly person: string;
}

const json = (status: number, body: unknown) => new Response(JSON.stringify(body), { status, headers: { 'Content-Type': 'application/json' } });

/** A browser with its own rows, and a server with accounts and tablets in front of the fake log. */
function setUp(accounts: Readonly<Record<string, Account>>, server: FakeServer = createFakeServer(TEAM)) {
  const net = { down: false };
  const tablets = new Set<string>();
  const fetcher: typeof fetch = async (input, init) => {
    if (net.down) throw new TypeError('network down');
    const path = String(input);
    const body = (typeof init?.body === 'string' ? JSON.parse(init.body) : {}) as { name?: string; password?: string; tablet?: string };
    if (path === '/api/v1/session') {
      const account = accounts[body.name ?? ''];
      if (account === undefined || account.password !== body.password) return json(401, { error: 'wrong-password', message: 'The login or the password is wrong.' });
      const tablet = tablets.has(body.tablet ?? '') ? body.tablet : '';
      const person = { id: account.person, name: `Name of ${body.name}`, credential: 'OT' };
      return json(200, { person, teams: [{ id: TEAM, name: 'North', role: 'clinician' }], admin: false, tablet, log: server.log, expires: '' });
    }
    if (path === '/api/v1/tablets') {
      const id = `tab-${newId()}`;
      tablets.add(id);
      return json(201, { id });
    }
    return server.fetch(input, init);
  };
  const http: Http = createHttp(fetcher);
  const world = { ...fakeWorld(server), http };
  const plan = { ...keeperPlan, name: `keepers-${newId()}` };
  const keepers = createKeepers({ db: createDatabase(plan, world.notices), deriver: createDeriver(() => Promise.reject(new Error('no worker here'))), now: () => Date.now() });
  const deps: SessionDeps = { http, keepers, label: () => 'Tablet', openDesk: (who) => openDesk(world, who) };
  return { server, net, tablets, signIn: (name: string, password: string, old?: string) => signInWith(deps, { login: name, password, oldPassword: old }) };
}

function on(signed: SignedIn): FakeTablet {
  return { desk: signed.desk, tablet: signed.session.tablet } as FakeTablet;
}

const code = (want: StoreErrorCode) => (error: unknown) => error instanceof StoreError && error.code === want;

const accounts = () => ({
  ann: { password: 'over the sill', person: `p-${newId()}` },
  ben: { password: 'under the lintel', person: `p-${newId()}` },
});

test('after one sign-in with a network the same password opens the tablet without one', async () => {
  const { signIn, net } = setUp(accounts());
  const first = await signIn('ann', 'over the sill');
  assert.equal(first.session.online, true);
  await openClientOn(on(first), 'Invented Client');
  first.desk.close();
  net.down = true;
  const again = await signIn(' Ann ', 'over the sill');
  assert.equal(again.session.online, false);
  assert.deepEqual(again.session.person, { ...first.session.person });
  assert.equal(again.session.tablet, first.session.tablet);
  assert.equal(again.desk.book.clients.value[0]?.name, 'Invented Client');
  await assert.rejects(signIn('ann', 'over the hill'), code('password'));
});

test('somebody who never signed in here with a network is told so', async () => {
  const { signIn, net } = setUp(accounts());
  net.down = true;
  await assert.rejects(signIn('ann', 'over the sill'), code('never-online'));
});

test('a wrong password is refused while the server answers', async () => {
  const { signIn } = setUp(accounts());
  await assert.rejects(signIn('ann', 'wrong'), code('password'));
});

test('several people on one browser see only their own rows', async () => {
  const { signIn } = setUp(accounts());
  const ann = await signIn('ann', 'over the sill');
  await openClientOn(on(ann), 'Client of Ann');
  ann.desk.close();
  const ben = await signIn('ben', 'under the lintel');
  assert.equal(ben.desk.book.clients.value.length, 0);
  assert.notEqual(ben.session.tablet, ann.session.tablet);
  ben.desk.close();
  const again = await signIn('ann', 'over the sill');
  assert.equal(again.desk.book.clients.value.length, 1);
});

test('after a change of password the one before opens the rows once', async () => {
  const people = accounts();
  const { signIn, net } = setUp(people);
  const first = await signIn('ann', 'over the sill');
  await openClientOn(on(first));
  first.desk.close();
  people.ann.password = 'a new door';
  await assert.rejects(signIn('ann', 'a new door'), code('changed-password'));
  await assert.rejects(signIn('ann', 'a new door', 'not it'), code('password'));
  const opened = await signIn('ann', 'a new door', 'over the sill');
  assert.equal(opened.desk.book.clients.value.length, 1);
  opened.desk.close();
  net.down = true;
  assert.equal((await signIn('ann', 'a new door')).desk.book.clients.value.length, 1);
});

test('a restored server that does not know the tablet gets everything under a new name', async () => {
  const { signIn, server, tablets } = setUp(accounts());
  const first = await signIn('ann', 'over the sill');
  const client = await openClientOn(on(first));
  await first.desk.loop.now();
  await first.desk.book.write('client-changed', client, { fields: { ref: 'R-2' } });
  first.desk.close();
  tablets.clear();
  server.restore('log-restored');
  const again = await signIn('ann', 'over the sill');
  assert.notEqual(again.session.tablet, first.session.tablet);
  assert.equal(again.desk.state.value.waiting, 2);
  await again.desk.loop.now();
  assert.deepEqual([...server.lines.keys()], [`${again.session.tablet}:1`, `${again.session.tablet}:2`]);
  assert.equal(again.desk.book.clients.value[0]?.ref, 'R-2');
});

test('a tablet that was ended sends only what the server never had', async () => {
  const { signIn, server, tablets } = setUp(accounts());
  const first = await signIn('ann', 'over the sill');
  const client = await openClientOn(on(first));
  await first.desk.loop.now();
  await first.desk.book.write('client-changed', client, { fields: { ref: 'R-2' } });
  first.desk.close();
  tablets.clear();
  const again = await signIn('ann', 'over the sill');
  await again.desk.loop.now();
  assert.deepEqual([...server.lines.keys()], [`${first.session.tablet}:1`, `${again.session.tablet}:1`]);
  assert.equal(again.desk.book.clients.value[0]?.ref, 'R-2');
});
