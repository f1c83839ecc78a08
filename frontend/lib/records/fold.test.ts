import assert from 'node:assert/strict';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import type { Client, Control, Entry, Visit } from '../model.gen';
import { foldClientEntries, foldControlEntries, foldVisitEntries } from './fold';

const folder = join('testdata', 'fold');

interface Vector {
  readonly name: string;
  readonly entries: readonly Entry[];
  readonly client?: Client;
  readonly visit?: Visit;
  readonly control?: Control;
}

for (const file of readdirSync(folder).filter((name) => name.endsWith('.json'))) {
  const vector = JSON.parse(readFileSync(join(folder, file), 'utf8')) as Vector;
  test(`the tablet folds like the server: ${vector.name}`, () => {
    if (vector.client) assert.deepEqual(foldClientEntries(vector.entries), vector.client);
    if (vector.visit) assert.deepEqual(foldVisitEntries(vector.entries), vector.visit);
    if (vector.control) assert.deepEqual(foldControlEntries(vector.entries), vector.control);
    assert.ok(vector.client ?? vector.visit ?? vector.control, `${file} expects nothing`);
  });
}
