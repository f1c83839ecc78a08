/**
 * Holds the look to one file of tokens: no colour and no length stands in any
 * other stylesheet or in markup, and in every theme what is read and what is
 * drawn stands out from what lies under it.
 */
import assert from 'node:assert/strict';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';

const root = 'frontend';
const TOKENS = 'ui/style/tokens.css';

const files = (ending: string): readonly string[] =>
  readdirSync(root, { recursive: true, encoding: 'utf8' })
    .filter((one) => one.endsWith(ending) && !one.includes('.test.'))
    .sort();
const read = (file: string): string => readFileSync(join(root, file), 'utf8').replaceAll(/\/\*[\s\S]*?\*\//g, '');

const css = read(TOKENS);
const defined = new Map([...css.matchAll(/^\s*(--[\w-]+):\s*([^;]+);/gm)].map(([, name = '', value = '']) => [name, value]));

/** Colours and lengths that a line of a stylesheet spells out. */
function literals(line: string): readonly string[] {
  if (/^\s*@(media|container)/.test(line)) return [];
  const bare = line.replaceAll(/var\([^)]*\)|url\([^)]*\)/g, '');
  const found =
    bare.match(/#[0-9a-f]{3,8}\b|\b(?:rgba?|hsla?|oklch|oklab|lab|lch|hwb|color)\(|(?<![\w-])\d*\.?\d+(?:px|rem|cm|mm|in|pt|pc|q)\b/gi) ??
    [];
  const value = /^\s*(?:[\w-]*color|background|border[\w-]*|outline|fill|stroke|box-shadow):\s*(.+);/.exec(bare)?.[1] ?? '';
  const named =
    value.match(/\b(?:black|white|gr[ae]y|red|green|blue|orange|yellow|teal|brown|silver|navy|purple|maroon|beige|ivory)\b/g) ?? [];
  return [...found, ...named];
}

test('what is a colour or a length is found in a line', () => {
  const lines: readonly (readonly [string, number])[] = [
    ['  color: #fff;', 1],
    ['  margin: 0 4px 0.5rem;', 2],
    ['  background: rgb(0 0 0 / 0.5);', 1],
    ['  border: var(--line) solid white;', 1],
    ['  margin: calc(-1 * var(--gap)) 0.5em 20% 3ch;', 0],
    ['  stroke-width: 3;', 0],
  ];
  for (const [line, count] of lines) assert.equal(literals(line).length, count, line);
});

test('no stylesheet but the tokens spells out a colour or a length', () => {
  const found = files('.css')
    .filter((file) => file !== TOKENS)
    .flatMap((file) =>
      read(file)
        .split('\n')
        .flatMap((line) => literals(line).map((one) => `${file}: ${one} in "${line.trim()}"`)),
    );
  assert.deepEqual(found, []);
});

test('markup spells out no colour', () => {
  const found = files('.tsx').flatMap((file) =>
    [...read(file).matchAll(/["'`](#[0-9a-fA-F]{3,8}|rgba?\([^)]*\))["'`]/g)].map(([, one = '']) => `${file}: ${one}`),
  );
  assert.deepEqual(found, []);
});

test('every token that is used is defined', () => {
  const missing = [...files('.css'), ...files('.tsx'), ...files('.ts')].flatMap((file) => {
    const text = read(file);
    const own = new Set([...text.matchAll(/(--[\w-]+)['"]?:/g)].map(([, name = '']) => name));
    return [...text.matchAll(/var\((--[\w-]+)/g)].flatMap(([, name = '']) =>
      defined.has(name) || own.has(name) ? [] : [`${file}: ${name}`],
    );
  });
  assert.deepEqual(missing, []);
});

test('layouts change at the widths of the list alone', () => {
  const list = new Set([...defined].filter(([name]) => name.startsWith('--at-')).map(([, value]) => value));
  const found = files('.css').flatMap((file) =>
    [...read(file).matchAll(/@(?:media|container)[^{]*?(?:width|height)[^{\d]*(\d+(?:\.\d+)?[a-z]+)/g)].flatMap(([, at = '']) =>
      list.has(at) ? [] : [`${file}: ${at}`],
    ),
  );
  assert.deepEqual(found, []);
});

type Colours = ReadonlyMap<string, string>;

function block(selector: string): Colours {
  const at = css.indexOf(`${selector} {`);
  assert.ok(at >= 0, `${TOKENS} has no block for ${selector}`);
  const body = css.slice(at, css.indexOf('}', at));
  return new Map([...body.matchAll(/(--[\w-]+):\s*(#[0-9a-f]{6});/g)].map(([, name = '', value = '']) => [name, value]));
}

const light = block("[data-theme='paper']");
const themes: Readonly<Record<string, Colours>> = {
  light,
  dark: new Map([...light, ...block("[data-theme='dark']")]),
  outdoor: new Map([...light, ...block("[data-theme='outdoor']")]),
};

/** WCAG 2.2, relative luminance. */
function luminance(hex: string): number {
  const [r = 0, g = 0, b = 0] = [1, 3, 5].map((at) => {
    const share = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

function contrast(one: string, other: string): number {
  const [a, b] = [luminance(one), luminance(other)];
  return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
}

test('black on white is 21 to 1, and the grey that just passes AA is 4.5', () => {
  assert.equal(contrast('#000000', '#ffffff'), 21);
  assert.equal(Math.round(contrast('#767676', '#ffffff') * 100) / 100, 4.54);
});

const levels = ['--paper', '--surface', '--raised'] as const;

/** What is read, and on what. */
const text: readonly (readonly [string, readonly string[]])[] = [
  ['--ink', [...levels, '--pressed', '--accent-wash', '--clay-wash']],
  ['--drawn-ink', ['--drawn-sheet', '--drawn-skin', '--drawn-cloth']],
  ['--drawn-sheet', ['--drawn-ink']],
  ['--ink-soft', [...levels, '--accent-wash']],
  ['--accent', [...levels, '--accent-wash']],
  ['--clay-ink', [...levels, '--clay-wash']],
  ['--on-ink', ['--ink']],
  ['--on-accent', ['--accent', '--accent-deep']],
  ['--on-clay', ['--clay']],
];
/** What is seen as a shape: the edge of what is touched, fills of marks and bars. */
const shapes: readonly (readonly [string, readonly string[]])[] = [
  ['--edge', levels],
  ['--clay', [...levels, '--clay-wash']],
  ['--drawn-ink', ['--drawn-pale', '--drawn-trousers']],
  ['--drawn-accent', ['--drawn-sheet', '--drawn-skin', '--drawn-pale']],
  ['--drawn-clay', ['--drawn-sheet', '--drawn-skin']],
  ['--door-leaf', [...levels, '--door-open']],
  ['--door-on-leaf', ['--door-leaf']],
];

for (const [theme, colours] of Object.entries(themes)) {
  const poor = (pairs: typeof text, least: number) =>
    pairs.flatMap(([one, unders]) =>
      unders.flatMap((under) => {
        const got = contrast(colours.get(one) ?? '', colours.get(under) ?? '');
        return got >= least ? [] : [`${one} on ${under}: ${got.toFixed(2)}`];
      }),
    );
  test(`in the ${theme} theme text stands out 7 to 1`, () => assert.deepEqual(poor(text, 7), []));
  test(`in the ${theme} theme shapes stand out 3 to 1`, () => assert.deepEqual(poor(shapes, 3), []));
}

test('no theme turns a drawing into its negative: ink is darker than what it lies on, and a door lets light in', () => {
  for (const [theme, colours] of Object.entries(themes)) {
    const bright = (name: string) => luminance(colours.get(name) ?? '');
    for (const under of ['sheet', 'skin', 'pale', 'cloth', 'trousers'])
      assert.ok(bright('--drawn-ink') < bright(`--drawn-${under}`), `${under}, ${theme}`);
    assert.ok(bright('--door-leaf') < bright('--door-open'), theme);
  }
  const own = [...read('ui/style/pictures.css').matchAll(/^((?:\.p-[\w-]+,?\s*)+)\{([^}]*)\}/gm)];
  assert.ok(own.length > 10);
  const foreign = own.flatMap(([, name = '', body = '']) =>
    (body.match(/var\((?!--drawn-)[^)]*\)/g) ?? []).map((one) => `${name.trim()}: ${one}`),
  );
  assert.deepEqual(foreign, [], 'the parts of a drawing have the colours of drawings alone');
});

test('outdoors nothing is grey', () => {
  const grey = [...(themes.outdoor ?? [])].filter(([name, value]) => !name.includes('clay') && value !== '#000000' && value !== '#ffffff');
  assert.deepEqual(grey, []);
});
