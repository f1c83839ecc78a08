import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import { ADVICE } from './refused';

test('there is advice for exactly the codes that the protocol names', () => {
  const page = readFileSync(join('internal', 'record', 'PROTOCOL.md'), 'utf8');
  const table = page.split('Codes of a quarantined event:')[1]?.split('\n## ')[0] ?? '';
  const codes = [...table.matchAll(/^\| `([a-z-]+)` \|/gm)].map(([, code]) => code);
  assert.deepEqual(Object.keys(ADVICE).sort(), codes.sort());
});
