import assert from 'node:assert/strict';
import { test } from 'node:test';
import { createFakeServer } from '../../test/fake-server';
import { newTablet, openClientOn, shown, startVisitOn, TEAM, withChecklist, type FakeTablet } from '../../test/tablet';
import { serverLimits, type AnswerGiven, type Given } from '../model.gen';
import { takeNewLog } from '../sync/push';
import { withReplaced } from './replaced';
import { openSnapshots } from './snapshots';

const answer: AnswerGiven = { item: 'pos-head', state: 'answered', level: '2' };
const head = (ref: string, pos: number, replaces?: readonly string[]): Given => ({
  ...answer,
  ref,
  pos,
  by: 'ann',
  at: '',
  ...(replaces === undefined ? {} : { replaces }),
});
const replacedBy = (heads: readonly Given[], item = 'pos-head') => withReplaced({ answers: [{ item, heads }] }, answer, 'tab-a').replaces;

test('an answer names what the visit shows of its item', () => {
  assert.deepEqual(withReplaced({ answers: [] }, answer, 'tab-a'), { ...answer, replaces: [] });
  assert.deepEqual(replacedBy([head('tab-b:1', 4), head('tab-c:2', 5)]), ['tab-b:1', 'tab-c:2']);
  assert.deepEqual(replacedBy([head('tab-b:1', 4)], 'pos-pelvis'), []);
  const many = Array.from({ length: serverLimits.answersReplaced + 1 }, (_, at) => head(`tab-${at}:1`, at + 1));
  assert.equal(replacedBy(many)?.length, serverLimits.answersReplaced);
});

test('what an own answer that waits replaced is named too, of other tablets', () => {
  const before = ['tab-a:6', 'tab-b:1'];
  assert.deepEqual(replacedBy([head('tab-a:7', 0, before)]), ['tab-a:7', 'tab-b:1']);
  assert.deepEqual(replacedBy([head('tab-a:7', 9, before)]), ['tab-a:7'], 'the server has it');
  assert.deepEqual(replacedBy([head('tab-c:7', 0, before)]), ['tab-c:7'], 'nobody here saw what it replaced');
});

async function visitOn() {
  const server = createFakeServer(TEAM);
  const tablet = await newTablet(server);
  await withChecklist(tablet);
  const visit = await startVisitOn(tablet, await openClientOn(tablet));
  await tablet.workspace.loop.now();
  await tablet.workspace.projections.settled();
  return { server, tablet, visit };
}

const logsOf = async ({ workspace }: FakeTablet, visit: string) => (await workspace.store.held(visit)).events.map((one) => one.event.log);

test('an entry names the log that its author had seen, once there is one', async () => {
  const { tablet, visit } = await visitOn();
  await tablet.workspace.projections.write('answer-given', visit, answer);
  assert.deepEqual(await logsOf(tablet, visit), [undefined, 'log-1']);
});

test('what was seen of a log that is no more is written down as that', async () => {
  const { tablet, visit } = await visitOn();
  const { store } = tablet.workspace;
  const snapshots = await openSnapshots(store, () => undefined);
  const before = snapshots.seenBy(visit, null);
  assert.deepEqual(before, { log: 'log-1', pos: 2 });
  // News of the visit is here and not shown yet, when the server turns out to be another one.
  await snapshots.touched([visit]);
  await takeNewLog(store, { exclusive: (work) => work() }, 'log-2');
  await snapshots.readCursors();
  assert.deepEqual(snapshots.seenBy(visit, null), before);
  snapshots.take(visit, await snapshots.read(visit), null, undefined);
  assert.deepEqual(snapshots.seenBy(visit, null), { log: 'log-2', pos: 0 });
});

test('the logs before a restore come with a page, and what is here is folded anew', async () => {
  const { server, tablet, visit } = await visitOn();
  const said = (from: string, n: number, seen: number, level: string) => {
    const own = {
      tablet: from,
      n,
      kind: 'answer-given',
      subject: visit,
      author: 'ben',
      at: '2026-03-02T10:00:00.000Z',
      zone: 'Etc/UTC',
      schema: 1,
    };
    const raw = { ...own, seen, log: 'log-0', body: { ...answer, level } };
    server.entries.push({ pos: server.entries.length + 1, raw });
  };
  said('tab-b', 1, 2, '0');
  said('tab-c', 1, 3, '3');
  const stands = (...levels: readonly string[]) =>
    shown(tablet, visit, (one) => String(one.visit.answers[0]?.heads.map((each) => each.level)) === String(levels));
  await tablet.workspace.loop.now();
  await stands('0', '3');
  server.earlier = [{ log: 'log-0', until: 3 }];
  await tablet.workspace.loop.now();
  await stands('3');
  assert.deepEqual((await tablet.workspace.store.held(visit)).logs, { log: 'log-1', earlier: server.earlier });
  server.earlier = [{ log: 'log-0', until: 2 }];
  server.restore('log-2');
  await tablet.workspace.loop.now();
  assert.deepEqual((await tablet.workspace.store.held(visit)).logs, { log: 'log-2', earlier: server.earlier });
});
