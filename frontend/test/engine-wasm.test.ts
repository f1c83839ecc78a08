/** The engine as the browser gets it gives the same bytes as the server's, for every shared vector. */
import assert from 'node:assert/strict';
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { test } from 'node:test';
import { readStandings, seriesText } from '../features/measure/repeats';
import { startProgram, type Ask } from '../lib/engine/engine-program';
import { parseFigures } from '../lib/engine/result';
import { parseThresholds } from '../lib/engine/thresholds';
import { runLine, visitText } from '../lib/engine/visit-text';
import type { Visit } from '../lib/model.gen';

const built = resolve('.cache', 'unit');
const vectors = join('testdata', 'vectors');

interface Vector {
  readonly name: string;
  readonly rules?: string;
  readonly visit: Visit;
  readonly text: string;
  readonly result: string;
}

async function startEngine(): Promise<Ask> {
  const program = readFileSync(join(built, 'engine.wasm'));
  const engine = await startProgram(
    async (imports) => (await WebAssembly.instantiate(program, imports)).instance,
    () => undefined,
  );
  engine('catalogue', readFileSync(join(built, 'catalogue-en.txt'), 'utf8'));
  return engine;
}

/** Results are long: say only the first line that differs. */
function assertSameLines(got: string, want: string): void {
  const [mine, theirs] = [got.split('\n'), want.split('\n')];
  const at = mine.findIndex((line, i) => line !== theirs[i]);
  if (at >= 0) assert.equal(mine[at], theirs[at], `line ${at + 1}`);
  assert.equal(mine.length, theirs.length, 'number of lines');
}

test('the engine in the browser computes what the server computes', async (t) => {
  const engine = await startEngine();
  const standard = readFileSync(join(built, 'standard.rules'), 'utf8');
  for (const file of readdirSync(vectors).filter((name) => name.endsWith('.json'))) {
    const vector = JSON.parse(readFileSync(join(vectors, file), 'utf8')) as Vector;
    await t.test(vector.name, () => {
      assert.equal(engine('load', vector.rules ?? standard), '');
      assertSameLines(engine('score', visitText(vector.visit)), vector.result);
    });
  }
  await t.test('the measuring screens read what the engine says while somebody measures', () => {
    const [far] = readStandings(engine('repeats', seriesText([{ what: 'force', unit: 'N', values: [3.5, 4, 4.5] }])));
    assert.deepEqual([far?.value, far?.spread, far?.missing, far?.more], [4, 25, 0, true]);
    const run = {
      place: 'indoors',
      state: 'rested',
      seconds: 300,
      metres: 100,
      things: 3,
      people: 0,
      prompts: 2,
      rescues: 0,
      unmeant: 0,
      presses: 0,
    };
    assert.deepEqual(
      parseFigures(engine('run', runLine(run))).map((figure) => [figure.name, figure.value]),
      [
        ['contacts', '1.5'],
        ['prompts', '4'],
        ['presses', '0'],
      ],
    );
    assert.equal(engine('convert', 'N\tgf\t0.49'), '49.966');
    const limits = new Set(parseThresholds(engine('thresholds', '')).map((row) => row.id));
    for (const id of [
      'repeats-wanted',
      'releases-wanted',
      'hold-counted',
      'override-text',
      'override-days',
      'class-standard-force',
      'class-standard-travel',
    ]) {
      assert.ok(limits.has(id), `the screens ask for the limit ${id}`);
    }
  });
  await t.test('broken input is answered with a sentence, not with a crash', () => {
    assert.throws(() => engine('score', 'no visit'), /expected doorsill-visit/);
    assert.throws(() => engine('load', 'no rules'), /expected doorsill-rules/);
  });
});
