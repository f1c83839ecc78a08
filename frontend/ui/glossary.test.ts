import assert from 'node:assert/strict';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import { glossary } from './glossary';

const screens = readdirSync('frontend', { recursive: true, encoding: 'utf8' })
  .filter((file) => file.endsWith('.tsx') && !file.startsWith(join('features', 'parts')))
  .map((file) => readFileSync(join('frontend', file), 'utf8'))
  .join('');

test('every word with a meaning stands on a screen, where it can be touched', () => {
  const unused = Object.keys(glossary).filter((id) => !screens.includes(`<Term id="${id}"`));
  assert.deepEqual(unused, []);
});

test('screens and sentences speak plainly: words of the trade and of the program stand in the glossary alone', () => {
  const words = /\b([Ff]easible|[Mm]arginal|[Ff]orce reserve|STOPs?|LIMIT|badge|[Dd]uty cycle)\b/;
  const catalogue = readdirSync('internal/phrase/en').flatMap((file) =>
    readFileSync(join('internal/phrase/en', file), 'utf8')
      .split('\n')
      // A formula and a source are cited as they are published; what stands before the colon or in braces is a name.
      .filter((line) => !line.startsWith('#') && !/^(formula|source)\./.test(line))
      .map((line) => line.slice(line.indexOf(': ') + 1).replaceAll(/\{[^}]*\}/g, '')),
  );
  const shown = [...screens.matchAll(/>([^<>{}=;]*[a-z][^<>{}=;]*)</g)].map(([, text = '']) => text);
  assert.ok(catalogue.length > 500 && shown.length > 300);
  assert.deepEqual(
    [...catalogue, ...shown].filter((line) => words.test(line)),
    [],
  );
});
