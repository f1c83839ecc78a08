import assert from 'node:assert/strict';
import { test } from 'node:test';
import { createTestEngine, standardChecklist } from '../../test/engine';
import type { StoredEvent } from '../database/event';
import type { AddEntriesQuestion, Definition, Logs, OpenVisitQuestion } from '../model.gen';
import { createFolds } from './folds';

const hash = 'ab'.repeat(32);

let number = 0;
function event(kind: string, body: unknown, more: Partial<StoredEvent> = {}, subject = 'v1'): StoredEvent {
  number += 1;
  const own = { tablet: 'tab-a', n: number, author: 'ann', at: '2026-03-02T09:00:00.000Z', zone: 'Europe/Dublin', schema: 1, seen: 0 };
  return { pos: 0, aside: false, event: { ...own, kind, subject, body }, ...more };
}
const start = (subject = 'v1') =>
  event('visit-started', { client: 'c1', team: 'north', unit: 'gf', checklist: { id: 'standard', version: '2026.1', hash } }, {}, subject);
const held = (events: readonly StoredEvent[], logs: Logs = { log: 'log-1' }) => ({ events, logs });
const answer = (item: string, more: Partial<StoredEvent> = {}) => event('answer-given', { item, state: 'answered', level: '3' }, more);

function setUp(checklist: () => Definition | undefined = () => standardChecklist() as Definition) {
  const engine = createTestEngine();
  const folds = createFolds({ engine, checklist: (name) => Promise.resolve(name === hash ? checklist() : undefined) });
  const fold = async (list: readonly StoredEvent[], subject = 'v1', logs?: Logs) => {
    const folded = await folds.fold(subject, held(list, logs));
    assert.equal(folded?.type, 'visit');
    return folded;
  };
  /** What was asked since the last time, with how many entries went along. */
  const news = () =>
    engine.asked.splice(0).map(({ op, question }) => {
      const { entries } = JSON.parse(question) as Partial<OpenVisitQuestion & AddEntriesQuestion>;
      return entries === undefined ? op : `${op} ${entries.length}`;
    });
  return { engine, folds, fold, news };
}

test('a new entry goes to the program alone, and what is set aside does not go', async () => {
  const { fold, news } = setUp();
  const list = [start(), answer('pos-head')];
  assert.equal((await fold(list)).visit.answers.length, 1);
  assert.deepEqual(news(), ['load-checklist', 'open-visit 2']);
  const more = [...list, answer('pos-pelvis'), answer('pos-trunk', { aside: true })];
  const grown = await fold(more);
  assert.deepEqual([grown.visit.answers.length, grown.count, grown.result?.message.text === ''], [2, 3, false]);
  assert.deepEqual(news(), ['add-entries 1']);
  await fold(more);
  assert.deepEqual(news(), ['add-entries 0']);
});

test('entries that got a place, or are not counted any more, make the program begin anew', async () => {
  const { fold, news } = setUp();
  const list = [start(), answer('pos-head'), answer('pos-pelvis')];
  await fold(list);
  news();
  const placed = list.map((one, at) => ({ ...one, pos: at + 1 }));
  assert.equal((await fold(placed)).visit.started.pos, 1);
  assert.deepEqual(news(), ['open-visit 3']);
  const fewer = placed.map((one, at) => (at === 2 ? { ...one, aside: true } : one));
  assert.equal((await fold(fewer)).visit.answers.length, 1);
  assert.deepEqual(news(), ['open-visit 2']);
});

test('logs that were not known make the program begin anew', async () => {
  const { fold, news } = setUp();
  const of = (tablet: string, pos: number, seen: number) => {
    const given = answer('pos-head', { pos });
    return { ...given, event: { ...given.event, tablet, seen, log: 'log-0' } };
  };
  const list = [{ ...start(), pos: 1 }, of('tab-b', 2, 1), of('tab-c', 3, 2)];
  const heads = async (logs: Logs) => (await fold(list, 'v1', logs)).visit.answers[0]?.heads.length;
  assert.equal(await heads({ log: 'log-1' }), 2);
  news();
  assert.equal(await heads({ log: 'log-1', earlier: [{ log: 'log-0', until: 2 }] }), 1);
  assert.deepEqual(news(), ['open-visit 3']);
  assert.equal(await heads({ log: 'log-1', earlier: [{ log: 'log-0', until: 2 }] }), 1);
  assert.deepEqual(news(), ['add-entries 0']);
});

test('a program that does not have the visit as it was left is given all of it', async () => {
  const { engine, fold, news } = setUp();
  const list = [start(), answer('pos-head')];
  await fold(list);
  await engine.ask('close-visit', { visit: 'v1' });
  news();
  const grown = await fold([...list, answer('pos-pelvis')]);
  assert.equal(grown.visit.answers.length, 2);
  assert.deepEqual(news(), ['add-entries 1', 'open-visit 3']);
});

test('after a crash another program gets the checklist and the whole visit', async () => {
  const { engine, fold, news } = setUp();
  const list = [start(), answer('pos-head')];
  await fold(list);
  news();
  engine.endAt('add-entries');
  const grown = await fold([...list, answer('pos-pelvis')]);
  assert.deepEqual([grown.visit.answers.length, grown.unscored, engine.started()], [2, undefined, 2]);
  assert.ok(grown.result);
  assert.deepEqual(news(), ['add-entries 1', 'load-checklist', 'open-visit 3']);
});

test('a crash at one subject keeps no other from being folded', async () => {
  const { engine, folds } = setUp();
  engine.endAt('fold-client');
  const opened = { team: 'north', ref: 'R', name: 'Invented', referred: '2026-01-05', priority: 'soon', course: 'stable' };
  const all = [
    folds.fold('v1', held([start()])),
    folds.fold('c1', held([event('client-opened', opened, {}, 'c1')])),
    folds.fold('v2', held([start('v2')])),
  ];
  assert.deepEqual(
    (await Promise.all(all)).map((one) => one?.type),
    ['visit', 'client', 'visit'],
  );
});

test('a visit is folded without its checklist, and has a result when that has come', async () => {
  const here: { checklist?: Definition } = {};
  const { fold } = setUp(() => here.checklist);
  const list = [start(), answer('pos-head')];
  const bare = await fold(list);
  assert.deepEqual([bare.visit.answers.length, bare.result, bare.definition], [1, null, undefined]);
  here.checklist = standardChecklist() as Definition;
  assert.ok((await fold(list)).result);
});
