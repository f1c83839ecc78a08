import assert from 'node:assert/strict';
import { test } from 'node:test';
import { openDB } from 'idb';
import { createFakeServer, type FakeServer } from '../../test/fake-server';
import { answerOn, newTablet, openClientOn, openRowsOf, openTablet, startVisitOn, TEAM, type FakeTablet } from '../../test/tablet';
import { randomBytes } from '../bytes';
import { openRing } from '../crypto/key-ring';
import { LOCKED_ACK, personStores, type StoreName } from './rows';

type AnyRow = Readonly<Record<string, unknown>> & { readonly key: string };
type Disk = Record<StoreName, AnyRow[]>;

/** All rows of a locked tablet, as who holds its disk sees them. */
async function readDisk(person: string): Promise<Disk> {
  const db = await openDB(`doorsill-${person}`);
  const disk = {} as Disk;
  for (const store of personStores) disk[store] = (await db.getAll(store)) as AnyRow[];
  db.close();
  return disk;
}

async function writeDisk(person: string, disk: Disk): Promise<void> {
  const db = await openDB(`doorsill-${person}`);
  const tx = db.transaction([...personStores], 'readwrite');
  for (const store of personStores) {
    await tx.objectStore(store).clear();
    for (const row of disk[store]) await tx.objectStore(store).put(row);
  }
  await tx.done;
  db.close();
}

const organisation = { id: 'key-1', key: 'BP7asxglGRalRpAIZUVSop1swVec2AbScVjcOGI2t9P8f/s3nftO9+7/7tp7b2PVREct0K7LLIkPXbChS637Axk=' };

interface Filled {
  readonly server: FakeServer;
  readonly tablet: FakeTablet;
  readonly client: string;
  readonly visit: string;
  /** The disk some entries ago. */
  readonly older: Disk;
}

/** A tablet with entries of two people, sent and waiting, a signature with its sealed copy, a draft and the organisation's key. Locked. */
async function filled(): Promise<Filled> {
  const server = createFakeServer(TEAM);
  const other = await newTablet(server);
  const theirs = await openClientOn(other, 'Client of another');
  await other.workspace.loop.now();
  const tablet = await newTablet(server);
  await tablet.workspace.store.keepSecret('organisation', { id: 'key-0', key: organisation.key });
  const client = await openClientOn(tablet);
  const visit = await startVisitOn(tablet, client);
  await answerOn(tablet, visit, 'pos-pelvis', '3');
  await tablet.workspace.loop.now();
  tablet.workspace.drafts.keep('typed:/x', 'first');
  await tablet.workspace.close();
  const older = await readDisk(tablet.person);
  const again = await openTablet(server, tablet);
  await again.workspace.store.keepSecret('organisation', organisation);
  await startVisitOn(other, theirs);
  await other.workspace.loop.now();
  await again.workspace.loop.now();
  await answerOn(again, visit, 'pos-trunk', '1');
  await again.workspace.projections.write('visit-signed', visit, { level: 'practise', result: 'ab'.repeat(32), name: 'Ann' });
  await again.workspace.sealSigned();
  again.workspace.drafts.keep('typed:/x', 'second');
  await again.workspace.close();
  await other.workspace.close();
  return { server, tablet, client, visit, older };
}

const own = (disk: Disk) => disk.events.filter((row) => row['own'] !== undefined);
const put = (rows: AnyRow[], row: AnyRow | undefined): AnyRow[] => {
  assert.ok(row, 'the row to be put is there');
  return [...rows.filter((one) => one.key !== row.key), row];
};
const find = (rows: readonly AnyRow[], key: string) => rows.find((row) => row.key === key);
const without = (rows: readonly AnyRow[], key: string): AnyRow[] => {
  assert.ok(find(rows, key), `${key} is there`);
  return rows.filter((row) => row.key !== key);
};
const changed = (rows: readonly AnyRow[], which: (row: AnyRow) => boolean, by: object): AnyRow[] => {
  assert.ok(rows.some(which), 'there is such a row');
  return rows.map((row) => (which(row) ? { ...row, ...by } : row));
};

/** What somebody does to the disk of a locked tablet, who has it as it was some entries ago as well. */
const attacks: Readonly<Record<string, (disk: Disk, one: Filled) => Disk>> = {
  'the organisation’s key in clear, as it lay before': (disk) => ({
    ...disk,
    meta: put(disk.meta, { key: 'organisation', text: JSON.stringify(organisation) }),
  }),
  'the organisation’s key of before': (disk, { older }) => ({ ...disk, meta: put(disk.meta, find(older.meta, 'organisation')) }),
  'an entry set aside': (disk) => ({ ...disk, events: changed(disk.events, (row) => row['own'] === 3, { aside: 1 }) }),
  'another position': (disk) => ({ ...disk, events: changed(disk.events, (row) => row['own'] === 3, { pos: 900 }) }),
  'another team': (disk) => ({ ...disk, events: changed(disk.events, (row) => row['own'] === undefined, { team: 'team-b' }) }),
  'an own entry made another’s': (disk) => ({ ...disk, events: changed(disk.events, (row) => row['own'] === 4, { own: undefined }) }),
  'another subject': (disk, { client }) => ({
    ...disk,
    events: changed(disk.events, (row) => row['own'] === 4, { subject: client }),
  }),
  'a field that nobody knows': (disk) => ({ ...disk, events: changed(disk.events, (row) => row['own'] === 1, { more: 1 }) }),
  'a field that cannot be compared': (disk) => ({ ...disk, drafts: changed(disk.drafts, () => true, { more: 1n }) }),
  'an entry under another number': (disk, { tablet }) => ({
    ...disk,
    events: changed(disk.events, (row) => row['own'] === 1, { key: `${tablet.tablet}:9`, own: 9 }),
  }),
  'a waiting entry taken away': (disk) => ({ ...disk, events: disk.events.filter((row) => row['own'] !== 4) }),
  'another’s entry taken away': (disk) => ({ ...disk, events: disk.events.filter((row) => row['own'] !== undefined) }),
  'a counter put back': (disk) => ({ ...disk, meta: put(disk.meta, { key: 'n', number: 2 }) }),
  'a counter that says all was sent': (disk) => ({ ...disk, meta: put(disk.meta, { key: 'ack', number: 5 }) }),
  'a cursor moved on': (disk) => ({ ...disk, meta: changed(disk.meta, (row) => row.key.startsWith('cursor:'), { number: 99 }) }),
  'a cursor taken away': (disk) => ({ ...disk, meta: disk.meta.filter((row) => !row.key.startsWith('cursor:')) }),
  'the log’s name taken away': (disk) => ({ ...disk, meta: without(disk.meta, 'log') }),
  'a mark that a subject is to be folded': (disk, { visit }) => ({
    ...disk,
    subjects: changed(disk.subjects, (row) => row.key === visit, { stale: undefined, mark: undefined }),
  }),
  'a subject taken away': (disk, { client }) => ({ ...disk, subjects: without(disk.subjects, client) }),
  'a subject of before': (disk, { older, visit }) => ({ ...disk, subjects: put(disk.subjects, find(older.subjects, visit)) }),
  'a draft of before': (disk, { older }) => ({ ...disk, drafts: older.drafts }),
  'a draft taken away': (disk) => ({ ...disk, drafts: [] }),
  'a sealed copy in another’s words': (disk) => ({ ...disk, sealed: changed(disk.sealed, () => true, { envelope: '{}' }) }),
  'the root of before': (disk, { older }) => ({ ...disk, meta: put(disk.meta, find(older.meta, 'root')) }),
  'the root cut': (disk) => ({ ...disk, meta: changed(disk.meta, (row) => row.key === 'root', { box: new Uint8Array(3) }) }),
  'the root taken away': (disk) => ({ ...disk, meta: without(disk.meta, 'root') }),
  'all that is sealed in meta taken away': (disk) => ({ ...disk, meta: disk.meta.filter((row) => row['box'] === undefined) }),
  'all entries of before': (disk, { older }) => ({ ...disk, events: older.events }),
  'all of meta of before': (disk, { older }) => ({ ...disk, meta: older.meta }),
};

for (const [what, attack] of Object.entries(attacks)) {
  test(`rows of a locked tablet that were changed are told, kept, sent and fetched again: ${what}`, async () => {
    const one = await filled();
    const { server, tablet, visit } = one;
    const before = await readDisk(tablet.person);
    const after = attack(before, one);
    assert.notDeepEqual(after, before);
    await writeDisk(tablet.person, after);

    const { workspace } = await openTablet(server, tablet);
    assert.notEqual(workspace.state.value.altered.rows, '', 'it is told at once');
    assert.equal(await workspace.store.secret('organisation'), undefined, 'nobody’s key is sealed to');
    // Nothing that opens was thrown away.
    const kept = new Set((await readDisk(tablet.person)).events.map((row) => row.key));
    for (const row of after.events) assert.ok(kept.has(row.key), row.key);

    await workspace.loop.now();
    await workspace.projections.settled();
    const lost = own(before).filter((row) => !after.events.some((other) => other.key === row.key));
    for (const row of own(before)) if (!lost.includes(row)) assert.ok(server.lines.has(row.key), `${row.key} has reached the server`);
    // All that the server has is here and counts, each in its place.
    const held = (await readDisk(tablet.person)).events;
    for (const { pos, raw } of server.entries) {
      const { tablet: by, n } = raw as { readonly tablet: string; readonly n: number };
      const rows = held.filter((row) => row.key === `${by}:${n}` || row.key === `${by}:${n}~log`);
      assert.ok(
        rows.some((row) => row['pos'] === pos && row['aside'] === undefined),
        `${by}:${n} is in its place`,
      );
    }
    assert.equal(workspace.projections.clients.value.length, 2, 'both clients are shown');
    if (lost.length === 0) {
      assert.equal(workspace.state.value.waiting, 0);
      assert.ok((await workspace.store.held(visit)).events.length >= 4);
    }

    // It is told until it was read; after that the rows are under their root again.
    for (const which of ['rows', 'whole'] as const) await workspace.alterations.acknowledge(which);
    await workspace.close();
    const again = await openTablet(server, tablet);
    assert.deepEqual(again.workspace.state.value.altered, { rows: '', whole: '' });
    await again.workspace.close();
  });
}

test('rows that nobody touched are never taken for changed ones', async () => {
  const { server, tablet } = await filled();
  for (let days = 0; days < 3; days++) {
    const { workspace } = await openTablet(server, tablet);
    assert.deepEqual(workspace.state.value.altered, { rows: '', whole: '' });
    await openClientOn({ ...tablet, workspace });
    workspace.drafts.keep('typed:/y', days);
    workspace.drafts.drop('typed:/x');
    if (days === 1) server.log = 'log-2';
    await workspace.loop.now();
    await workspace.removeDownload(TEAM);
    await workspace.teamDownloads.choose(TEAM, 'on');
    await workspace.loop.now();
    await workspace.close();
  }
});

test('all rows put back as they were are not noticed here, and are by the server', async () => {
  const { server, tablet, older } = await filled();
  const last = await openTablet(server, tablet);
  await last.workspace.loop.now();
  await last.workspace.close();
  await writeDisk(tablet.person, older);
  const { workspace } = await openTablet(server, tablet);
  assert.deepEqual(workspace.state.value.altered, { rows: '', whole: '' });
  await workspace.loop.now();
  assert.notEqual(workspace.state.value.altered.whole, '');
  assert.equal(workspace.state.value.altered.rows, '');
  // To have read the one is not to have read the other.
  await workspace.alterations.acknowledge('rows');
  assert.notEqual(workspace.state.value.altered.whole, '');
  await workspace.alterations.acknowledge('whole');
  assert.equal(workspace.state.value.altered.whole, '');
  await workspace.close();
});

test('three tabs that write at once leave rows that their root agrees with', async () => {
  const person = 'three-tabs';
  const ring = await openRing(person, randomBytes(32), []);
  const tabs = await Promise.all([0, 1, 2].map(() => openRowsOf(person, ring)));
  await Promise.all(
    tabs.flatMap(({ db }, tab) =>
      Array.from({ length: 40 }, (_, nth) =>
        db
          .write(['meta', 'drafts'], async (tx) => {
            const [meta, drafts] = [tx.objectStore('meta'), tx.objectStore('drafts')];
            // The same row twice in one transaction, without waiting in between.
            void meta.put({ key: 'n', number: nth });
            await Promise.all([meta.put({ key: 'n', number: nth + tab }), meta.put({ key: `k${nth % 7}`, text: `${tab} ${nth}` })]);
            if (nth % 3 === 0) await drafts.delete(`d${(nth + 1) % 5}`);
            else await drafts.put({ key: `d${nth % 5}`, box: randomBytes(40) });
            if (nth % 11 === 5) throw new Error('given up');
          })
          .catch((error: unknown) => {
            assert.equal((error as { readonly info: { readonly cause: Error } }).info.cause.message, 'given up');
          }),
      ),
    ),
  );
  for (const { db } of tabs) db.close();
  const { db } = await openRowsOf(person, ring);
  const meta = await db.read(['meta'], (tx) => tx.objectStore('meta').getAll());
  assert.equal(
    meta.some((row) => row.key === 'altered'),
    false,
  );
  assert.equal(meta.length, 9);
  db.close();
});

test('what is noted of rows that are locked away is no change of them', async () => {
  const { server, tablet } = await filled();
  const disk = await readDisk(tablet.person);
  await writeDisk(tablet.person, { ...disk, meta: put(disk.meta, { key: LOCKED_ACK, number: 3 }) });
  const { workspace } = await openTablet(server, tablet);
  assert.equal(workspace.state.value.altered.rows, '');
  assert.equal(await workspace.store.number('ack'), 3);
  await workspace.close();
});
