/** The program as the browser gets it: it folds the shared vectors, scores and words, and takes broken input for what it is. */
import assert from 'node:assert/strict';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import { BadInputError } from '../lib/errors';
import type { Client, Control, Entry, Logs, Visit } from '../lib/model.gen';
import { createTestEngine, standardChecklist, startTestProgram } from './engine';

const folder = join('testdata', 'fold');

interface Vector {
  readonly name: string;
  readonly logs?: Logs;
  readonly entries: readonly Entry[];
  readonly client?: Client;
  readonly visit?: Visit;
  readonly control?: Control;
}

test('the program folds like the server', async (t) => {
  const engine = createTestEngine();
  for (const file of readdirSync(folder).filter((name) => name.endsWith('.json'))) {
    const { name, logs = { log: '' }, entries, client, visit, control } = JSON.parse(readFileSync(join(folder, file), 'utf8')) as Vector;
    await t.test(name, async () => {
      if (client) assert.deepEqual(await engine.ask('fold-client', { entries }), client);
      if (visit) assert.deepEqual((await engine.ask('open-visit', { visit: 'v', checklist: '', logs, entries })).visit, visit);
      if (control) assert.deepEqual(await engine.ask('fold-control', { entries }), control);
      assert.ok(client ?? visit ?? control, `${file} expects nothing`);
    });
  }
});

test('the screens ask for limits that there are', async () => {
  const { thresholds } = await createTestEngine().ask('thresholds', {});
  const ids = new Set(thresholds.map((row) => row.id));
  for (const id of [
    'repeats-wanted',
    'releases-wanted',
    'hold-counted',
    'override-text',
    'override-days',
    'class-standard-force',
    'class-standard-travel',
  ]) {
    assert.ok(ids.has(id), `the screens ask for the limit ${id}`);
  }
  assert.ok(thresholds.every((row) => row.status.text));
});

test('the measuring screens read what the program says while somebody measures', async () => {
  const engine = createTestEngine();
  const { summaries } = await engine.ask('summarise-series', { series: [{ what: 'force', unit: 'N', values: [3.5, 4, 4.5] }] });
  const [far] = summaries;
  assert.deepEqual([far?.value, far?.spread, far?.more], [4, 25, 2]);
  assert.ok(far?.message.text);
  assert.deepEqual((await engine.ask('convert', { values: [0.49], from: 'N', to: 'gf' })).values, [49.966]);
});

test('broken input is answered with its field, and a broken catalogue ends the start', async () => {
  const engine = createTestEngine();
  await assert.rejects(engine.ask('load-checklist', { hash: 'h', definition: 'none' }), BadInputError);
  await assert.rejects(engine.ask('advice', { problem: 'none' }), BadInputError);
  assert.equal(await engine.ask('load-checklist', { hash: 'h', definition: standardChecklist() }), null);
  const bad = await engine.ask('check-body', { kind: 'answer-given', body: { item: 'pos-head', state: 'perhaps' } });
  assert.match(bad?.path ?? '', /state/);
  const ask = await startTestProgram();
  assert.match(ask('thresholds', 'no JSON'), /^\{"error":/);
});
