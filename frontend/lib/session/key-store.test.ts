import assert from 'node:assert/strict';
import { test } from 'node:test';
import { createHttp } from '../api/http';
import { randomBytes, toBytes, toText } from '../bytes';
import { createCipher } from '../crypto/cipher';
import { openRing } from '../crypto/key-ring';
import { remainingWait, waitAfter } from '../crypto/rate-limit';
import type { PersonDatabase } from '../database/guarded';
import { StoreError, type StoreErrorCode } from '../errors';
import { newBrowser, on, twoPeople } from '../../test/browser';
import { fakeWorld, openClientOn, openRowsOf, startVisitOn } from '../../test/tablet';
import { unsaltedKey } from './login-key';
import { exportLockedRows, openLockedRows, readLockedRows, sendLockedRows, type LockedRowsDeps } from './locked-rows';
import { wrappingFrom } from './passkey';
import { renewRows } from './reencrypt';
import { openWorkspace } from './workspace';

const code = (want: StoreErrorCode) => (error: unknown) => error instanceof StoreError && error.code === want;
const organisation = { id: 'key-1', key: 'BP7asxglGRalRpAIZUVSop1swVec2AbScVjcOGI2t9P8f/s3nftO9+7/7tp7b2PVREct0K7LLIkPXbChS637Axk=' };

/** Waits until something holds; the test's own time limit ends it otherwise. */
async function until(holds: () => Promise<boolean>): Promise<void> {
  while (!(await holds()))
    await new Promise((resolve) => {
      setImmediate(resolve);
    });
}

test('fault 27: after a lock or sign-out nothing unsent is gone, not even a touch that was still on its way', async () => {
  const browser = newBrowser(twoPeople());
  const first = await browser.signIn('ann', 'over the sill');
  browser.net.down = true;
  const client = await openClientOn(on(first));
  const late = first.workspace.projections.write('client-changed', client, { fields: { ref: 'R-9' } });
  first.workspace.drafts.keep('typed:/clients/x', [{ label: 'Note', nth: 0, text: 'half a sen' }]);
  await first.workspace.close();
  await late;
  const again = await browser.again().signIn('ann', 'over the sill');
  assert.equal(again.workspace.state.value.waiting, 2);
  assert.deepEqual(again.workspace.drafts.load('typed:/clients/x'), [{ label: 'Note', nth: 0, text: 'half a sen' }]);
  await again.workspace.loop.now();
  assert.equal(browser.server.lines.size, 2);
  await assert.rejects(
    first.workspace.projections.write('client-changed', client, { fields: {} }),
    code('locked'),
    'the workspace of before writes nothing any more',
  );
});

test('fault 28: ten wrong passwords make the waits grow, survive a restart and destroy nothing', async () => {
  const browser = newBrowser(twoPeople());
  const first = await browser.signIn('ann', 'over the sill');
  await openClientOn(on(first));
  await first.workspace.close();
  const waits: number[] = [];
  let now = browser.again();
  now.net.down = true;
  for (let tries = 0; tries < 10; tries++) {
    await assert.rejects(now.signIn('ann', 'over the hill'), code('password'), `try ${tries + 1}`);
    const { ms } = remainingWait((await now.keyStore.find('ann'))?.tries, now.net.at);
    waits.push(ms);
    if (ms > 0) {
      await assert.rejects(now.signIn('ann', 'over the sill'), code('wait'), 'even the right password waits');
      const at = now.net.at;
      now = now.again(); // the browser is closed and opened: the wait is still on
      Object.assign(now.net, { down: true, at: at + 1 });
      await assert.rejects(now.signIn('ann', 'over the sill'), code('wait'));
      now.net.at = at + ms;
    }
  }
  assert.deepEqual(
    waits,
    [...waits].sort((a, b) => a - b),
    'each wait is as long as the one before or longer',
  );
  assert.equal(waits[1], 0, 'a slip of the finger costs nothing');
  assert.ok((waits[9] ?? 0) >= 60_000 && (waits[9] ?? 0) <= 15 * 60_000, String(waits));
  const opened = await now.signIn('ann', 'over the sill');
  assert.equal(opened.workspace.projections.clients.value.length, 1);
  assert.equal((await now.keyStore.find('ann'))?.tries, undefined, 'the right password wipes the slate');
});

test('fault 28: a clock that is set back neither ends a wait nor stretches it', async () => {
  const browser = newBrowser(twoPeople());
  await (await browser.signIn('ann', 'over the sill')).workspace.close();
  browser.net.down = true;
  for (let tries = 0; tries < 3; tries++) await assert.rejects(browser.signIn('ann', 'wrong'), code('password'));
  const wait = waitAfter(3);
  browser.net.at -= 10 * 365 * 24 * 3_600_000;
  await assert.rejects(browser.signIn('ann', 'over the sill'), code('wait'));
  browser.net.at += wait - 1;
  await assert.rejects(browser.signIn('ann', 'over the sill'), code('wait'));
  browser.net.at += 1;
  await (await browser.signIn('ann', 'over the sill')).workspace.close();
});

test('fault 28: wrong passwords that the server refuses count too; one that it accepts is never counted', async () => {
  const people = twoPeople();
  const browser = newBrowser(people);
  await (await browser.signIn('ann', 'over the sill')).workspace.close();
  for (let tries = 0; tries < 3; tries++) await assert.rejects(browser.signIn('ann', 'wrong'), code('password'));
  await assert.rejects(browser.signIn('ann', 'over the sill'), code('wait'));
  browser.net.at += 60_000;
  people.ann.password = 'a new door';
  for (let tries = 0; tries < 5; tries++) await assert.rejects(browser.signIn('ann', 'a new door'), code('changed-password'));
});

test('fault 30: two people on one tablet read only their own rows, and each sends only her own', async () => {
  const browser = newBrowser(twoPeople());
  const ann = await browser.signIn('ann', 'over the sill');
  browser.net.down = true;
  await openClientOn(on(ann), 'Client of Ann');
  const rows = await ann.workspace.store.db.read(['events'], (tx) => tx.objectStore('events').getAll());
  await ann.workspace.close();
  browser.net.down = false;
  const ben = await browser.signIn('ben', 'under the lintel');
  assert.equal(ben.workspace.projections.clients.value.length, 0);
  const cipher = createCipher(ann.session.person.id, ben.who.key, ben.who.older);
  for (const row of rows)
    await assert.rejects(cipher.open('events', row.key, row.box), code('damaged'), 'the second one’s key opens no row of the first');
  // Put among the other's rows, an entry is reported as damaged and never sent.
  await ben.workspace.store.db.write(['events'], (tx) =>
    Promise.all(rows.map(({ key, subject, pos, box }) => tx.objectStore('events').put({ key, subject, pos, box }))),
  );
  assert.deepEqual((await ben.workspace.store.held(rows[0]?.subject ?? '')).events, []);
  await openClientOn(on(ben), 'Client of Ben');
  await ben.workspace.loop.now();
  assert.deepEqual(
    [...browser.server.lines.values()].map((line) => /Client of (\w+)/.exec(line)?.[1]),
    ['Ben'],
  );
  await ben.workspace.close();
  const again = await browser.signIn('ann', 'over the sill');
  await again.workspace.loop.now();
  assert.deepEqual(
    [...browser.server.lines.values()].map((line) => /Client of (\w+)/.exec(line)?.[1]),
    ['Ben', 'Ann'],
  );
  assert.deepEqual(
    [...browser.server.lines.keys()].map((key) => key.split(':')[0]),
    [ben.session.tablet, ann.session.tablet],
  );
});

/** A database that dies at its n-th write, before or after it is on the disk. */
function dying(db: PersonDatabase, at: number, after: boolean): PersonDatabase {
  let writes = 0;
  const write: PersonDatabase['write'] = async (stores, work) => {
    writes += 1;
    if (writes > at || (writes === at && !after)) throw new Error('killed');
    const done = await db.write(stores, work);
    if (writes === at) throw new Error('killed');
    return done;
  };
  return { ...db, write };
}

/** The keys of before, those of today, and what a tab holds that has both. */
async function twoRings(person: string) {
  const [old, next] = [await openRing(person, randomBytes(32), []), await openRing(person, randomBytes(32), [])];
  return { old, next, both: { key: next.key, older: [old.key], setKeys: [...next.setKeys, ...old.setKeys] } };
}

test('new keys lose no row, at whatever write the page is killed', async () => {
  const stores = ['events', 'subjects', 'results', 'checklists', 'meta', 'drafts'] as const;
  for (let at = 1; at <= 8; at++) {
    for (const after of [false, true]) {
      const person = `renew-${at}-${after}`;
      const { old, next, both: ring } = await twoRings(person);
      const before = createCipher(person, old.key);
      const { db } = await openRowsOf(person, old);
      const keys = Array.from({ length: 60 }, (_, nth) => `row-${nth}`);
      for (const store of stores) {
        const rows = await Promise.all(
          keys.map(async (key) => ({ key, subject: 's', pos: 0, box: await before.seal(store, key, toBytes(`${store} ${key}`)) })),
        );
        await db.write([store], (tx) => Promise.all(rows.map((row) => tx.objectStore(store).put(row as never))));
      }
      const both = createCipher(person, ring.key, ring.older);
      await renewRows(dying(db, at, after), both).then(
        () => false,
        () => true,
      );
      db.close();
      // The browser starts again: every row opens; then the work is finished.
      const { db: again, renewRoot } = await openRowsOf(person, ring);
      const open = async (cipher: typeof both) => {
        for (const store of stores) {
          for (const row of await again.read([store], (tx) => tx.objectStore(store).getAll())) {
            if (row.key === 'root') continue;
            assert.equal(toText(await cipher.open(store, row.key, row.box ?? new Uint8Array(0))), `${store} ${row.key}`);
          }
        }
      };
      await open(both);
      assert.equal(await renewRows(again, both), true);
      await open(createCipher(person, next.key));
      assert.equal(await renewRoot(), true);
      again.close();
      // With the newest key alone the rows are what their root says.
      const { db: last } = await openRowsOf(person, next);
      assert.equal((await last.read(['meta'], (tx) => tx.objectStore('meta').get('altered')))?.text, undefined);
      last.close();
    }
  }
});

test('a row that somebody writes while rows are sealed anew stays as they wrote it', async () => {
  const { old, both: ring } = await twoRings('renew-race');
  const [before, both] = [createCipher('renew-race', old.key), createCipher('renew-race', ring.key, ring.older)];
  const { db } = await openRowsOf('renew-race', ring);
  await db.write(['drafts'], async (tx) => {
    await tx.objectStore('drafts').put({ key: 'a', box: new Uint8Array(0) });
  });
  const [first, second] = [await before.seal('drafts', 'a', toBytes('first')), await both.seal('drafts', 'a', toBytes('second'))];
  await db.write(['drafts'], (tx) => tx.objectStore('drafts').put({ key: 'a', box: first }));
  let raced = false;
  const racing: typeof db = {
    ...db,
    write: async (stores, work) => {
      if (!raced) {
        raced = true;
        await db.write(['drafts'], (tx) => tx.objectStore('drafts').put({ key: 'a', box: second }));
      }
      return db.write(stores, work);
    },
  };
  assert.equal(await renewRows(racing, both), true);
  const row = await db.read(['drafts'], (tx) => tx.objectStore('drafts').get('a'));
  assert.equal(toText(await both.open('drafts', 'a', row?.box ?? new Uint8Array(0))), 'second');
});

test('a password change gives new keys, and the ones of before are forgotten once every row is sealed anew', async () => {
  const people = twoPeople();
  const browser = newBrowser(people);
  const first = await browser.signIn('ann', 'over the sill');
  await openClientOn(on(first));
  await first.workspace.close();
  const before = await browser.keyStore.find('ann');
  people.ann.password = 'a new door';
  const opened = await browser.signIn('ann', 'a new door', { oldPassword: 'over the sill' });
  assert.equal(opened.who.older?.length, 1);
  // Signing in began it by itself.
  await until(async () => (await browser.keyStore.find('ann'))?.data?.length === 1);
  await opened.workspace.close();
  const row = await browser.keyStore.find('ann');
  assert.notDeepEqual(row?.wrapped, before?.wrapped);
  browser.net.down = true;
  const again = await browser.again().signIn('ann', 'a new door');
  assert.equal(again.workspace.projections.clients.value.length, 1);
  assert.equal(again.workspace.state.value.error, null, 'no row was left under the old key');
  // A copy of the old key row with the old password opens nothing of today.
  assert.ok(before);
  const ring = await browser.keyStore.unlock(before, 'over the sill');
  const cipher = createCipher(before.person, ring.key, ring.older);
  const events = await again.workspace.store.db.read(['events'], (tx) => tx.objectStore('events').getAll());
  for (const one of events) await assert.rejects(cipher.open('events', one.key, one.box), code('damaged'));
});

test('keys of before stay while another tab still has only those', async () => {
  const people = twoPeople();
  const browser = newBrowser(people);
  const world = { ...fakeWorld(browser.server), http: browser.deps.http };
  const shared = newBrowser(people, { server: browser.server, openWorkspace: (who) => openWorkspace(world, who) });
  const first = await shared.signIn('ann', 'over the sill'); // stays open, as another tab would
  people.ann.password = 'a new door';
  const opened = await shared.signIn('ann', 'a new door', { oldPassword: 'over the sill' });
  let settled = 0;
  await opened.workspace.finishTurn(() => {
    settled += 1;
    return Promise.resolve();
  });
  assert.equal(settled, 0);
  await first.workspace.close();
  await until(async () => {
    await opened.workspace.finishTurn(() => {
      settled += 1;
      return Promise.resolve();
    });
    return settled === 1;
  });
});

test('a tab with the keys of before takes what it cannot open for locked, not for damaged, and sends nothing in its place', async () => {
  const people = twoPeople();
  const browser = newBrowser(people);
  const first = await browser.signIn('ann', 'over the sill'); // asleep, so that it does not hear that it shall lock
  people.ann.password = 'a new door';
  const opened = await browser.signIn('ann', 'a new door', { oldPassword: 'over the sill' });
  await openClientOn(on(opened), 'Marrow Quillby');
  await first.workspace.loop.now();
  assert.equal(first.workspace.state.value.error?.code, 'locked');
  assert.equal(browser.server.lines.size, 0);
  await opened.workspace.loop.now();
  assert.equal(browser.server.lines.size, 1);
  assert.match([...browser.server.lines.values()].join(), /Marrow Quillby/);
  assert.equal(opened.workspace.state.value.error, null);
});

test('a passkey opens the same rows as the password, and ends with a password change', async () => {
  const people = twoPeople();
  const browser = newBrowser(people);
  await (await browser.signIn('ann', 'over the sill')).workspace.close();
  const row = await browser.keyStore.find('ann');
  assert.ok(row);
  const secret = () => wrappingFrom(new Uint8Array(32).fill(7), row.person);
  const id = new Uint8Array([1, 2, 3]);
  await assert.rejects(browser.keyStore.addPasskey(row, 'wrong', { id, salt: randomBytes(32), secret: await secret() }), code('password'));
  await browser.keyStore.addPasskey(row, 'over the sill', { id, salt: randomBytes(32), secret: await secret() });
  const keyRow = await browser.again().keyStore.find('ann');
  assert.ok(keyRow);
  const ring = await browser.keyStore.unlockByPasskey(keyRow, id, await secret());
  assert.ok(ring.key);
  await assert.rejects(
    browser.keyStore.unlockByPasskey(keyRow, id, await wrappingFrom(new Uint8Array(32).fill(8), row.person)),
    code('password'),
  );
  await assert.rejects(
    browser.keyStore.unlockByPasskey(keyRow, id, await wrappingFrom(new Uint8Array(32).fill(7), 'somebody else')),
    code('password'),
  );
  people.ann.password = 'a new door';
  await browser.signIn('ann', 'a new door', { oldPassword: 'over the sill' });
  assert.equal((await browser.keyStore.find('ann'))?.passkeys, undefined);
});

test('a forgotten password loses no signed visit: what is sealed is sent, and the locked rows stay', async () => {
  const people = twoPeople();
  const sent: string[] = [];
  const browser = newBrowser(people, { organisation });
  const first = await browser.signIn('ann', 'over the sill');
  browser.net.down = true;
  const visit = await startVisitOn(on(first), await openClientOn(on(first), 'Marrow Quillby'));
  await first.workspace.projections.write('visit-signed', visit, { level: 'practise', result: 'ab'.repeat(32), name: 'Ann' });
  await first.workspace.sealSigned();
  await openClientOn(on(first), 'Not signed'); // begun, never signed
  await first.workspace.close();
  browser.net.down = false;
  people.ann.password = 'a new door';
  await assert.rejects(browser.signIn('ann', 'a new door'), code('changed-password'));
  const fresh = await browser.signIn('ann', 'a new door', { forgotten: true });
  assert.equal(fresh.workspace.projections.clients.value.length, 0);
  assert.notEqual(fresh.session.tablet, first.session.tablet);
  const deps: LockedRowsDeps = {
    keyStore: browser.keyStore,
    notices: fakeWorld(browser.server).notices,
    person: fresh.session.person.id,
    keyRowId: fresh.who.keyRowId,
  };
  assert.deepEqual(await readLockedRows(deps), { waiting: 4, sealed: 3 });
  const file = await exportLockedRows(deps, new Date('2026-03-02'));
  assert.equal(file.entries, 3);
  assert.equal(file.text.includes('Marrow'), false);
  const http = createHttp(async (_path, init) => {
    sent.push(new TextDecoder().decode(init?.body as Uint8Array));
    return new Response(JSON.stringify({ log: 'log-1', ack: 3, verdicts: [], server_time: '' }), {
      headers: { 'Content-Type': 'application/json' },
    });
  });
  await sendLockedRows(http, deps);
  assert.deepEqual(sent.map((one) => `${one}\n`).join(''), file.text);
  assert.deepEqual(await readLockedRows(deps), { waiting: 1, sealed: 0 }, 'what was not signed stays, locked');
  await fresh.workspace.close();
  browser.net.down = true;
  assert.ok(await browser.again().signIn('ann', 'a new door'), 'the new rows open by themselves');
});

test('who forgot two passwords opens what each of them locks, in any order', async () => {
  const people = twoPeople();
  const browser = newBrowser(people);
  const passwords = ['over the sill', 'a new door', 'a third door'];
  for (const [at, password] of passwords.entries()) {
    people.ann.password = password;
    browser.net.down = false;
    const signed = await browser.signIn('ann', password, { forgotten: at > 0 });
    if (at < 2) {
      browser.net.down = true;
      await openClientOn(on(signed), `Client ${at}`);
    } else {
      const deps: LockedRowsDeps = {
        keyStore: browser.keyStore,
        notices: fakeWorld(browser.server).notices,
        person: signed.session.person.id,
        keyRowId: signed.who.keyRowId,
      };
      // The program would take their visits for those that are on the screen.
      const alone = { ...browser.deps, openWorkspace: () => Promise.reject(new Error('a second workspace')) };
      await assert.rejects(openLockedRows(alone, deps, 'neither of them'), code('password'));
      for (const [left, one] of [
        [1, 'a new door'],
        [0, 'over the sill'],
      ] as const) {
        await openLockedRows(alone, deps, one);
        assert.equal((await readLockedRows(deps)).waiting, left, one);
      }
      assert.match([...browser.server.lines.values()].join(), /Client 1.*Client 0/);
    }
    await signed.workspace.close();
  }
});

test('the row of a person is under a slow and salted hash of the name: the name cannot be looked up', async () => {
  const people = twoPeople();
  const [one, other] = [newBrowser(people), newBrowser(people)];
  for (const browser of [one, other]) await (await browser.signIn('ann', 'over the sill')).workspace.close();
  const [row, elsewhere] = [await one.keyStore.find(' Ann '), await other.keyStore.find('ann')];
  assert.ok(row && elsewhere);
  assert.notEqual(row.key, elsewhere.key, 'another device has another salt');
  assert.notEqual(row.key, await unsaltedKey('ann'));
});

test('a row under the plain hash of before is moved at the next sign-in, with those that an earlier password locks', async () => {
  const people = twoPeople();
  const browser = newBrowser(people);
  const first = await browser.signIn('ann', 'over the sill');
  await openClientOn(on(first));
  await first.workspace.close();
  people.ann.password = 'a new door';
  await (await browser.signIn('ann', 'a new door', { forgotten: true })).workspace.close();
  const salted = (await browser.keyStore.find('ann'))?.key ?? '';
  const plain = await unsaltedKey('ann');
  await browser.db.write(['keepers'], async (tx) => {
    const keepers = tx.objectStore('keepers');
    for (const row of await keepers.getAll()) {
      await keepers.put({ ...row, key: row.key.replace(salted, plain) });
      await keepers.delete(row.key);
    }
  });
  const again = browser.again();
  again.net.down = true;
  const opened = await again.signIn('ann', 'a new door');
  assert.equal(opened.who.keyRowId, salted);
  const keys = (await again.keyStore.all()).map((row) => row.key);
  assert.equal(keys.length, 2);
  assert.ok(keys.every((key) => key.startsWith(salted)));
  await opened.workspace.close();
});
