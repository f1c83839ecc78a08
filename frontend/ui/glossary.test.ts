import assert from 'node:assert/strict';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import type { Definition } from '../lib';
import { standardChecklist } from '../test/engine';
import { glossary, piecesOf } from './glossary';

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

test('in a text of the checklist a word can be touched the first time that it is said', () => {
  assert.deepEqual(piecesOf('Widen the dead zone: the dead zone, a shorter way to full command.'), [
    { text: 'Widen the ' },
    { text: 'dead zone', term: 'dead-zone' },
    { text: ': the dead zone, a shorter ' },
    { text: 'way to full command', term: 'throw' },
    { text: '.' },
  ]);
  assert.deepEqual(piecesOf('Force to spare'), [{ text: 'Force to spare', term: 'reserve' }]);
  assert.deepEqual(piecesOf('Label, card.'), [{ text: 'Label, card.' }]);
});

test('the standard checklist speaks plainly, and each word that can be touched there is said there', () => {
  const { help, sections } = standardChecklist() as Definition;
  const texts = JSON.stringify([
    help,
    sections.map(({ items }) =>
      items.map(({ id: _id, from: _from, asks, effects: _effects, ...said }) => [said, asks?.map((ask) => ask.prompt)]),
    ),
  ]);
  assert.doesNotMatch(texts, /[Ff]orce reserve|[Tt]ravel reserve|badge|\bthrow\b|worst-direction|[Uu]nmeant|[Uu]nintended|head-borne/i);
  const unsaid = Object.entries(glossary).flatMap(([id, entry]) =>
    'plainly' in entry && !texts.toLowerCase().includes(entry.plainly) ? [id] : [],
  );
  assert.deepEqual(unsaid, []);
});
