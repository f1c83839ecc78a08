/**
 * What a browser keeps in clear of a page: its title, its address and what
 * stands in its fields. Each has one place that sees to it; this holds that
 * nothing goes around them.
 */
import assert from 'node:assert/strict';
import { readdirSync, readFileSync } from 'node:fs';
import { test } from 'node:test';

Object.assign(globalThis, { location: new URL('http://tablet.test/') });
const { windowTitles } = await import('./window-title');

/** What leaves something in the browser's files, and the one file that may do it. */
const ONLY_IN: readonly (readonly [what: string, pattern: RegExp, files: readonly string[]])[] = [
  ['an element to type into or choose with', /<(?:input|textarea|select|form|datalist)\b/, ['ui/inputs.tsx']],
  ['an editable element', /contentEditable|designMode/i, []],
  ['another autocomplete', /autoComplete="(?!username"|current-password"|new-password"|off")/, []],
  ['the window’s title', /document\.title|<title\b/, ['app/window-title.ts']],
  [
    'an address',
    /\b(?:pushState|replaceState)\b|location\.(?:hash|search|href) = |location\.assign/,
    ['ui/address.ts', 'lib/index.ts', 'features/lock/withdrawn-screen.tsx'],
  ],
  ['a notification', /showNotification|new Notification\b/, []],
  ['a cache', /\bcaches\.|\bcache\.put\b/, ['app/service-worker.ts', 'lib/engine/engine-worker.ts']],
  ['text outside the encrypted rows', /\b(?:localStorage|sessionStorage)\b/, ['app/cautions-read.ts', 'ui/display.ts']],
  ['a file to be saved', /\.download = /, ['ui/outbox-file.tsx']],
  ['a form of the browser’s own', /\b(?:window|globalThis)\.(?:prompt|name)\b|\bprompt\(/, []],
];

const sources = readdirSync('frontend', { recursive: true, encoding: 'utf8' }).filter(
  (name) => /^(?:app|ui|features|lib)\/.*\.tsx?$/.test(name) && !name.includes('.test.'),
);

function breaks(text: string, name: string): readonly string[] {
  const code = text.replace(/\/\*[^]*?\*\/|\/\/.*$/gm, '');
  return ONLY_IN.filter(([, pattern, files]) => pattern.test(code) && !files.includes(name)).map(([what]) => `${name}: ${what}`);
}

test('nothing goes around the places that keep the browser from keeping text', () => {
  assert.ok(sources.length > 100);
  assert.deepEqual(
    sources.flatMap((name) => breaks(readFileSync(`frontend/${name}`, 'utf8'), name)),
    [],
  );
});

test('each of them is noticed', () => {
  const planted = [
    '<textarea rows={3} />',
    '<div contentEditable />',
    '<TextField autoComplete="name" />',
    'document.title = client.name;',
    'history.replaceState(null, "", q);',
    'new Notification(client.name)',
    'const cache = await caches.open(key);',
    'sessionStorage.setItem(a, b)',
    'link.download = client.name;',
    'window.name = note;',
  ];
  assert.deepEqual(
    planted.map((text) => breaks(text, 'features/x.tsx').length),
    planted.map(() => 1),
  );
});

test('titles are made of plain constants', () => {
  for (const title of Object.values(windowTitles)) assert.match(title, /^[A-Z][a-z ]+$/);
  const code = readFileSync('frontend/app/window-title.ts', 'utf8');
  assert.equal(code.split('${').length - 1, 1, 'only the constant is put into the title');
});
