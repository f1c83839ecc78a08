import assert from 'node:assert/strict';
import { test } from 'node:test';
import { createFakeServer } from '../../test/fake-server';
import {
  answerOn,
  newTablet,
  openClientOn,
  openTablet,
  shown,
  startVisitOn,
  TEAM,
  withChecklist,
  type FakeTablet,
} from '../../test/tablet';
import { openSnapshots } from './snapshots';

const rowOf = (tablet: FakeTablet, subject: string) =>
  tablet.workspace.store.db.read(['subjects'], (tx) => tx.objectStore('subjects').get(subject));
const staleOf = async (tablet: FakeTablet, subject: string) => (await rowOf(tablet, subject))?.stale;
const tap = (tablet: FakeTablet, visit: string, item: string) =>
  tablet.workspace.projections.write('answer-given', visit, { item, state: 'answered', level: '3' });
const answered = (tablet: FakeTablet) => tablet.workspace.projections.clients.value[0]?.visits[0]?.answered;

async function visitOn(server = createFakeServer(TEAM)) {
  const tablet = await newTablet(server);
  await withChecklist(tablet);
  const client = await openClientOn(tablet);
  const visit = await startVisitOn(tablet, client);
  await shown(tablet, visit, (one) => one.result !== null);
  await tablet.workspace.projections.settled();
  return { server, tablet, client, visit };
}

test('a tap is saved while the program says nothing; its subject stays marked with what was shown before', async () => {
  const { tablet, visit } = await visitOn();
  const before = await rowOf(tablet, visit);
  assert.equal(before?.stale, undefined);
  const release = tablet.world.engine.hold();
  await tap(tablet, visit, 'pos-head');
  await tap(tablet, visit, 'pos-pelvis');
  const marked = await rowOf(tablet, visit);
  assert.equal(marked?.stale, 1);
  assert.deepEqual(marked.box, before?.box);
  assert.deepEqual([answered(tablet), tablet.workspace.state.value.waiting], [0, 4]);
  release();
  await shown(tablet, visit, (one) => one.visit.answers.length === 2);
  await tablet.workspace.projections.settled();
  assert.deepEqual([answered(tablet), await staleOf(tablet, visit)], [2, undefined]);
});

test('of many taps in a row none is lost, and the program is asked for the newest', async () => {
  const { tablet, visit } = await visitOn();
  const { engine } = tablet.world;
  const release = engine.hold();
  engine.asked.length = 0;
  for (const item of ['pos-head', 'pos-pelvis', 'pos-trunk', 'pos-head', 'pos-arms']) await tap(tablet, visit, item);
  release();
  await tablet.workspace.projections.settled();
  const view = await shown(tablet, visit, (one) => one.visit.answers.length === 4);
  assert.equal(view.visit.answers.find((one) => one.item === 'pos-head')?.heads.length, 1);
  const sent = engine.asked.map(({ question }) => (JSON.parse(question) as { entries: unknown[] }).entries.length);
  assert.deepEqual([engine.asked.length <= 2, sent.reduce((sum, one) => sum + one, 0)], [true, 5]);
});

test('a new subject that could not be folded is there after a restart', async () => {
  const server = createFakeServer(TEAM);
  const tablet = await newTablet(server);
  tablet.world.engine.hold();
  const opened = { team: TEAM, ref: 'R-1', name: 'Invented', referred: '2026-01-05', priority: 'soon', course: 'stable' };
  await tablet.workspace.projections.write('client-opened', 'c1', opened);
  assert.equal(await staleOf(tablet, 'c1'), 1);
  assert.equal(tablet.workspace.projections.clients.value.length, 0);
  await tablet.workspace.close();
  const again = await openTablet(server, tablet);
  assert.deepEqual(
    again.workspace.projections.clients.value.map((one) => one.name),
    ['Invented'],
  );
  assert.equal(await staleOf(again, 'c1'), undefined);
});

test('a program that ends at a tap loses nothing, and says so until it works again', async () => {
  const { tablet, visit } = await visitOn();
  const { engine } = tablet.world;
  engine.endAt('add-entries');
  await tap(tablet, visit, 'pos-head');
  await tablet.workspace.projections.settled();
  assert.equal((await shown(tablet, visit, (one) => one.visit.answers.length === 1)).engineError, '', 'another one took over');
  // The next one ends as well, as often as it is asked.
  const ended = tablet.world.engine.endAlways();
  await tap(tablet, visit, 'pos-pelvis');
  await tablet.workspace.projections.settled();
  assert.equal(await staleOf(tablet, visit), 1);
  const failed = await shown(tablet, visit, (one) => one.engineError !== '');
  assert.match(failed.engineError, /saved and not shown yet.*ended/);
  assert.equal(failed.result, null, 'a level of before does not stand as if it were of now');
  ended();
  await tablet.workspace.projections.refresh(new Set());
  const view = await shown(tablet, visit, (one) => one.engineError === '');
  assert.equal(view.visit.answers.length, 2);
});

test('what another tab writes is shown here too, and no tab takes the mark of an entry that it does not know', async () => {
  const { server, tablet, visit } = await visitOn();
  const other = await openTablet(server, tablet);
  // The other tab is told nothing: it knows the visit as it was.
  await shown(other, visit, (one) => one.result !== null);
  await tap(tablet, visit, 'pos-head');
  await tablet.workspace.projections.settled();
  await tap(other, visit, 'pos-pelvis');
  const view = await shown(other, visit, (one) => one.visit.answers.length > 0);
  assert.equal(view.visit.answers.length, 2, 'it read the disk again');
  await other.workspace.projections.settled();
  assert.equal(await staleOf(tablet, visit), undefined);
  const release = tablet.world.engine.hold();
  await tap(tablet, visit, 'pos-trunk');
  await tap(other, visit, 'pos-arms');
  release();
  await tablet.workspace.projections.settled();
  await other.workspace.projections.settled();
  await tablet.workspace.projections.refresh(new Set([visit]));
  assert.equal((await shown(tablet, visit, (one) => one.visit.answers.length === 4)).visit.answers.length, 4);
});

test('a signature names the result that is shown, in the bytes that the program hashes', async () => {
  const { server, tablet, visit } = await visitOn();
  const { resultToSign } = tablet.workspace.projections;
  await answerOn(tablet, visit, 'pos-head', '3');
  const view = await shown(tablet, visit, (one) => one.visit.answers.length === 1);
  assert.ok(view.result);
  const own = await resultToSign(visit, view.result);
  assert.match(own.result, /^[0-9a-f]{64}$/);
  const { level, format, engine, catalogue } = view.result;
  assert.deepEqual(own, { result: own.result, level, format, engine, catalogue });
  const scored = { sha256: 'ef'.repeat(32), result: { ...view.result, level: 'accompanied', engine: 'another' } };
  server.results.set(visit, { visit: view.visit, scored });
  await tablet.workspace.loop.now();
  const confirmed = await shown(tablet, visit, (one) => !one.provisional);
  assert.ok(confirmed.result);
  const theirs = await resultToSign(visit, confirmed.result);
  assert.deepEqual([theirs.result, theirs.level, theirs.engine], [scored.sha256, 'accompanied', 'another']);
  // What is entered now is not in that result, however long the program takes.
  const release = tablet.world.engine.hold();
  await tap(tablet, visit, 'pos-pelvis');
  assert.equal((await shown(tablet, visit, (one) => one.provisional)).result?.level, 'accompanied');
  release();
});

test('a result that has changed since it was shown is not signed', async () => {
  const { server, tablet, visit } = await visitOn();
  const { resultToSign } = tablet.workspace.projections;
  const changed = { code: 'conflict', message: 'The result has just changed. Look at it again before you sign.' };
  await answerOn(tablet, visit, 'pos-head', '3');
  const first = (await shown(tablet, visit, (one) => one.visit.answers.length === 1)).result;
  assert.ok(first);
  const own = await resultToSign(visit, first);
  // Of the newest entry, also right after it was saved.
  await tap(tablet, visit, 'pos-pelvis');
  await assert.rejects(resultToSign(visit, first), changed);
  const second = await shown(tablet, visit, (one) => one.visit.answers.length === 2 && one.result !== null);
  assert.ok(second.result);
  assert.notEqual((await resultToSign(visit, structuredClone(second.result))).result, own.result);
  // The server comes to another one for the same entries.
  server.results.set(visit, {
    visit: second.visit,
    scored: { sha256: 'ef'.repeat(32), result: { ...second.result, level: 'accompanied' } },
  });
  await tablet.workspace.loop.now();
  await shown(tablet, visit, (one) => one.differs);
  await assert.rejects(resultToSign(visit, second.result), changed);
});

const seenOf = async (tablet: FakeTablet, subject: string) =>
  (await tablet.workspace.store.held(subject)).events.filter((one) => one.event.tablet === tablet.tablet).map((one) => one.event.seen);

test('an entry has seen what is shown of its visit, and not what has only been taken in', async () => {
  const { server, tablet, visit } = await visitOn();
  await tablet.workspace.loop.now();
  const colleague = await newTablet(server);
  await colleague.workspace.loop.now();
  await answerOn(colleague, visit, 'pos-head', '1');
  await colleague.workspace.loop.now();
  const release = tablet.world.engine.hold();
  const exchange = tablet.workspace.loop.now();
  while ((await tablet.workspace.store.number(`cursor:${TEAM}`)) < 3) await new Promise(setImmediate);
  await tablet.workspace.projections.refresh(new Set([visit]));
  await tap(tablet, visit, 'pos-head');
  release();
  await exchange;
  const view = await shown(tablet, visit, (one) => one.visit.answers[0]?.heads.length === 2);
  assert.equal(view.visit.answers[0]?.heads.length, 2, 'both stand until somebody chooses');
  await tap(tablet, visit, 'pos-pelvis');
  assert.deepEqual((await seenOf(tablet, visit)).toSorted(), [0, 2, 3]);
});

test('a fold that was begun before news came in has not seen it', async () => {
  const { tablet, visit } = await visitOn();
  await tablet.workspace.loop.now();
  const { store } = tablet.workspace;
  const snapshots = await openSnapshots(store, () => undefined);
  const seen = snapshots.seenBy(visit, null);
  const old = await snapshots.read(visit);
  await store.db.write(['meta'], (tx) => tx.objectStore('meta').put({ key: `cursor:${TEAM}`, number: seen.pos + 5 }));
  await snapshots.touched([visit]);
  await snapshots.readCursors();
  snapshots.take(visit, old, null, undefined);
  assert.deepEqual([snapshots.seenBy(visit, null), snapshots.unread.value], [seen, 1]);
  snapshots.take(visit, await snapshots.read(visit), null, undefined);
  assert.deepEqual([snapshots.seenBy(visit, null), snapshots.unread.value], [{ ...seen, pos: seen.pos + 5 }, 0]);
});

test('news of what was taken off the device is not waited for', async () => {
  const { tablet, visit } = await visitOn();
  const { store } = tablet.workspace;
  const snapshots = await openSnapshots(store, () => undefined);
  await snapshots.touched([visit]);
  assert.equal(snapshots.unread.value, 1);
  await store.db.write(['subjects'], (tx) => tx.objectStore('subjects').delete(visit));
  await snapshots.touched([visit]);
  assert.equal(snapshots.unread.value, 0);
});

test('the second entry of a visit that is not shown yet has seen as much as the first', async () => {
  const { tablet, client } = await visitOn();
  await tablet.workspace.loop.now();
  await tablet.workspace.projections.settled();
  tablet.world.engine.hold();
  const started = { client, team: TEAM, checklist: { id: 'standard', version: '2026.1', hash: 'ab'.repeat(32) }, unit: 'gf' };
  await tablet.workspace.projections.write('visit-started', 'v2', started);
  await tap(tablet, 'v2', 'pos-head');
  assert.deepEqual(await seenOf(tablet, 'v2'), [2, 2]);
});

test('a visit that the program cannot open says why, and is shown once it can', async () => {
  const { server, tablet, visit } = await visitOn();
  await tablet.workspace.close();
  const again = await openTablet(server, tablet);
  const { projections } = again.workspace;
  const ended = again.world.engine.endAlways();
  const view = projections.openVisit(visit);
  await projections.settled();
  assert.equal(view.value, null);
  assert.equal(projections.visitOpening(visit).value.state, 'failed');
  assert.match(projections.visitOpening(visit).value.why, /ended/);
  assert.match(projections.unreadWhy.value, /ended/);
  await tap(again, visit, 'pos-head');
  ended();
  await projections.refresh(new Set());
  assert.equal((await shown(again, visit, (one) => one.visit.answers.length === 1)).visit.id, visit);
  assert.deepEqual([projections.unread.value, projections.unreadWhy.value], [0, '']);
});

test('what is shown of one subject does not hide that another cannot be', async () => {
  const { server, tablet, client, visit } = await visitOn();
  await tablet.workspace.close();
  const again = await openTablet(server, tablet);
  const { projections } = again.workspace;
  const ended = again.world.engine.endAlways();
  projections.openVisit(visit);
  await projections.settled();
  ended();
  await projections.write('client-changed', client, { fields: { ref: 'R-2' } });
  await projections.settled();
  assert.equal(projections.clients.value[0]?.ref, 'R-2');
  assert.match(projections.unreadWhy.value, /ended/);
  await projections.refresh(new Set());
  await shown(again, visit, (one) => one.engineError === '');
  assert.equal(projections.unreadWhy.value, '');
});
