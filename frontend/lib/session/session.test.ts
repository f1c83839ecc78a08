import assert from 'node:assert/strict';
import { test } from 'node:test';
import { StoreError, type StoreErrorCode } from '../errors';
import { newBrowser, on, twoPeople } from '../../test/browser';
import { createFakeServer } from '../../test/fake-server';
import { fakeWorld, openClientOn, TEAM } from '../../test/tablet';
import { openWorkspace } from './workspace';

const code = (want: StoreErrorCode) => (error: unknown) => error instanceof StoreError && error.code === want;

test('after one sign-in with a network the same password opens the tablet without one', async () => {
  const { signIn, net } = newBrowser(twoPeople());
  const first = await signIn('ann', 'over the sill');
  assert.equal(first.session.online, true);
  await openClientOn(on(first), 'Invented Client');
  first.workspace.close();
  net.down = true;
  const again = await signIn(' Ann ', 'over the sill');
  assert.equal(again.session.online, false);
  assert.deepEqual(again.session.person, { ...first.session.person });
  assert.equal(again.session.tablet, first.session.tablet);
  assert.equal(again.workspace.projections.clients.value[0]?.name, 'Invented Client');
  await assert.rejects(signIn('ann', 'over the hill'), code('password'));
});

test('somebody who never signed in here with a network is told so', async () => {
  const { signIn, net } = newBrowser(twoPeople());
  net.down = true;
  await assert.rejects(signIn('ann', 'over the sill'), code('never-online'));
});

test('somebody new here whom the server asks to wait is told just that, and who was here before gets in', async () => {
  const { signIn, net } = newBrowser(twoPeople());
  const { session } = await signIn('ann', 'over the sill');
  net.tooMany = true;
  await assert.rejects(signIn('ben', 'under the lintel'), { code: 'server', message: 'Please wait 29 seconds.' });
  assert.equal((await signIn('ann', 'over the sill')).session.person.id, session.person.id);
});

test('a wrong password is refused while the server answers', async () => {
  const { signIn } = newBrowser(twoPeople());
  await assert.rejects(signIn('ann', 'wrong'), code('password'));
});

test('several people on one browser see only their own rows', async () => {
  const { signIn } = newBrowser(twoPeople());
  const ann = await signIn('ann', 'over the sill');
  await openClientOn(on(ann), 'Client of Ann');
  ann.workspace.close();
  const ben = await signIn('ben', 'under the lintel');
  assert.equal(ben.workspace.projections.clients.value.length, 0);
  assert.notEqual(ben.session.tablet, ann.session.tablet);
  ben.workspace.close();
  const again = await signIn('ann', 'over the sill');
  assert.equal(again.workspace.projections.clients.value.length, 1);
});

test('fault 17: rows that are gone while their key is not get a new name, so that no number is used twice', async () => {
  const { signIn } = newBrowser(twoPeople());
  const first = await signIn('ann', 'over the sill');
  await openClientOn(on(first));
  first.workspace.close();
  await new Promise((resolve) => {
    indexedDB.deleteDatabase(`doorsill-${first.session.person.id}`).onsuccess = resolve;
  });
  const again = await signIn('ann', 'over the sill');
  assert.notEqual(again.session.tablet, first.session.tablet);
  assert.equal(await again.workspace.store.number('n'), 0);
  again.workspace.close();
  const third = await signIn('ann', 'over the sill');
  assert.equal(third.session.tablet, again.session.tablet, 'it keeps its new name');
});

test('after a change of password the one before opens the rows once', async () => {
  const people = twoPeople();
  const { signIn, net } = newBrowser(people);
  const first = await signIn('ann', 'over the sill');
  await openClientOn(on(first));
  first.workspace.close();
  people.ann.password = 'a new door';
  await assert.rejects(signIn('ann', 'a new door'), code('changed-password'));
  await assert.rejects(signIn('ann', 'a new door', { oldPassword: 'not it' }), code('password'));
  const opened = await signIn('ann', 'a new door', { oldPassword: 'over the sill' });
  assert.equal(opened.workspace.projections.clients.value.length, 1);
  opened.workspace.close();
  net.down = true;
  assert.equal((await signIn('ann', 'a new door')).workspace.projections.clients.value.length, 1);
});

test('a restored server that does not know the tablet gets everything again, under the name it had', async () => {
  const { signIn, server, tablets } = newBrowser(twoPeople());
  const first = await signIn('ann', 'over the sill');
  const client = await openClientOn(on(first));
  await first.workspace.loop.now();
  await first.workspace.projections.write('client-changed', client, { fields: { ref: 'R-2' } });
  first.workspace.close();
  tablets.clear();
  server.restore('log-restored');
  const again = await signIn('ann', 'over the sill');
  assert.equal(again.session.tablet, first.session.tablet);
  await again.workspace.loop.now();
  assert.deepEqual([...server.lines.keys()], [`${first.session.tablet}:1`, `${first.session.tablet}:2`]);
  assert.equal(again.workspace.projections.clients.value[0]?.ref, 'R-2');
  assert.deepEqual([...tablets], [first.session.tablet]);
});

test('somebody who first signs in before joining a team can make entries once they have joined', async () => {
  const people = twoPeople();
  people.ann.teamless = true;
  const { signIn, again } = newBrowser(people);
  const first = await signIn('ann', 'over the sill');
  assert.equal(first.session.tablet, '');
  await first.workspace.close();
  people.ann.teamless = false;
  const second = await signIn('ann', 'over the sill');
  assert.notEqual(second.session.tablet, '');
  await openClientOn(on(second));
  await second.workspace.close();
  const third = await again().signIn('ann', 'over the sill');
  assert.equal(third.session.tablet, second.session.tablet);
  assert.equal(third.workspace.projections.clients.value.length, 1);
});

test('a sign-in that fails after the rows were opened leaves none of them open', async () => {
  const people = twoPeople();
  const server = createFakeServer(TEAM);
  const full = new StoreError('full', 'This tablet has no room left.');
  const state = { open: 0, full: true };
  const { signIn } = newBrowser(people, {
    server,
    openWorkspace: async (who) => {
      const real = await openWorkspace(fakeWorld(server), who);
      state.open += 1;
      const { setTeams } = real.teamDownloads;
      return {
        ...real,
        teamDownloads: { ...real.teamDownloads, setTeams: (teams) => (state.full ? Promise.reject(full) : setTeams(teams)) },
        close: async () => {
          state.open -= 1;
          await real.close();
        },
      };
    },
  });
  await assert.rejects(signIn('ann', 'over the sill'), code('full'));
  assert.equal(state.open, 0);
  state.full = false;
  await signIn('ann', 'over the sill');
  assert.equal(state.open, 1);
});
