import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import { replay, type Recording } from '../../test/replay';

const folder = join('testdata', 'sync');

for (const file of readdirSync(folder).filter((name) => name.endsWith('.json'))) {
  const recording = JSON.parse(readFileSync(join(folder, file), 'utf8')) as Recording;
  test(`the tablet does as the simulation says: ${recording.name}`, () => replay(recording));
}
