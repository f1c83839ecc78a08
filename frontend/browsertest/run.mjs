// @ts-check
// Runs every *.test.mjs in this folder, two at a time: each mostly waits. What
// passed is also written down, for the last step of "make test".
import { run } from 'node:test';
import { junit, spec } from 'node:test/reporters';
import { createWriteStream, mkdirSync, readdirSync } from 'node:fs';
import { join } from 'node:path';

const only = process.argv[2];
const files = readdirSync(import.meta.dirname)
  .filter((name) => name.endsWith('.test.mjs') && (!only || name.includes(only)))
  .sort()
  .map((name) => join(import.meta.dirname, name));
if (files.length === 0) {
  console.error(`no browser test matches ${only ?? '*.test.mjs'}`);
  process.exit(1);
}
// Rounds of kills at night take longer than one story.
const rounds = Number(process.env.KILLS ?? 1);
const stream = run({ files, concurrency: 2, timeout: 300_000 * rounds });
stream.on('test:fail', () => {
  process.exitCode = 1;
});
stream.compose(new spec()).pipe(process.stdout);
const reports = join(import.meta.dirname, '../../.cache/tests');
mkdirSync(reports, { recursive: true });
stream.compose(junit).pipe(createWriteStream(join(reports, 'browser.xml')));
