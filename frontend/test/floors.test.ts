/**
 * Holds the floors of the front end: app over features over ui over lib. Arrows
 * go down only, no feature knows another, and nothing goes round in a circle,
 * neither between files nor between the folders of lib.
 */
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { posix } from 'node:path';
import { test } from 'node:test';

/** One file imports another; both as paths below frontend. */
type Arrow = readonly [from: string, to: string];

const FLOORS = ['lib', 'ui', 'features', 'app'];

/** Followed only once the program runs: the late part names the start, so that both are bundled well (app/screens.tsx). */
const LATE = 'app/lazy.ts app/screens.tsx';

const floorOf = (file: string): number => FLOORS.indexOf(file.split('/')[0] ?? '');
const featureOf = (file: string): string => (file.startsWith('features/') ? (file.split('/')[1] ?? '') : '');
const isTest = (file: string): boolean => file.includes('.test.') || floorOf(file) < 0;

function wrongArrows(arrows: readonly Arrow[]): readonly string[] {
  return arrows.flatMap(([from, to]) => {
    if (isTest(from)) return [];
    if (isTest(to)) return [`${from} imports ${to}, which is for tests`];
    if (floorOf(to) > floorOf(from)) return [`${from} imports ${to}, which is above it`];
    const [mine, other] = [featureOf(from), featureOf(to)];
    return mine !== '' && other !== '' && mine !== other ? [`${from} imports ${to}, of another feature`] : [];
  });
}

/** The first circle that is found, as the files along it; empty when there is none. */
function circle(arrows: readonly Arrow[]): readonly string[] {
  const next = new Map<string, string[]>();
  for (const [from, to] of arrows) if (!isTest(from) && `${from} ${to}` !== LATE) next.set(from, [...(next.get(from) ?? []), to]);
  const done = new Set<string>();
  const walk = (file: string, way: readonly string[]): readonly string[] => {
    if (way.includes(file)) return [...way.slice(way.indexOf(file)), file];
    if (done.has(file)) return [];
    for (const to of next.get(file) ?? []) {
      const found = walk(to, [...way, file]);
      if (found.length > 0) return found;
    }
    done.add(file);
    return [];
  };
  for (const file of next.keys()) {
    const found = walk(file, []);
    if (found.length > 0) return found;
  }
  return [];
}

/** In place of files the folders of lib that they are in: its own files count for themselves. */
function libFolders(arrows: readonly Arrow[]): readonly Arrow[] {
  const folderOf = (file: string): string => (file.split('/').length > 2 ? posix.dirname(file) : file);
  return arrows
    .filter(([from, to]) => floorOf(from) === 0 && floorOf(to) === 0 && !isTest(from))
    .map(([from, to]): Arrow => [folderOf(from), folderOf(to)])
    .filter(([from, to]) => from !== to);
}

const below = (path: string): string => path.replace(/^frontend\//, '');

/** What the compiler resolved: imports of values, of types, and those of import(). */
function compilerArrows(): readonly Arrow[] {
  const tsc = posix.join('node_modules', '.bin', 'tsc');
  const report = execFileSync(tsc, ['--noEmit', '--explainFiles'], { encoding: 'utf8', maxBuffer: 1 << 26 });
  const arrows = new Map<string, Arrow>();
  let to = '';
  for (const line of report.split('\n')) {
    if (/^\S/.test(line)) to = line.trim();
    const from = /^ +Imported via .* from file '(frontend\/[^']+)'/.exec(line)?.[1];
    if (from !== undefined && to.startsWith('frontend/')) arrows.set(`${from} ${to}`, [below(from), below(to)]);
  }
  return [...arrows.values()];
}

/** Stylesheets, which the compiler does not resolve. */
function styleArrows(): readonly Arrow[] {
  const files = readdirSync('frontend', { recursive: true, encoding: 'utf8' }).filter((file) => /\.(css|tsx?)$/.test(file));
  return files.flatMap((file) => {
    const text = readFileSync(posix.join('frontend', file), 'utf8');
    return [...text.matchAll(/import '(\.[^']+\.css)'/g)].map(([, path = '']): Arrow => [file, posix.join(posix.dirname(file), path)]);
  });
}

test('arrows between the floors go down only, and never round in a circle', () => {
  const arrows = [...compilerArrows(), ...styleArrows()];
  assert.ok(arrows.length > 1000, `only ${arrows.length} imports were found`);
  assert.deepEqual(wrongArrows(arrows), []);
  assert.deepEqual(circle(arrows), []);
});

test('nothing goes round between the folders of lib', () => {
  assert.deepEqual(circle(libFolders(compilerArrows())), []);
  const round = libFolders([
    ['lib/index.ts', 'lib/session/auth.ts'],
    ['lib/session/auth.ts', 'lib/records/types.ts'],
    ['lib/records/types.ts', 'lib/records/order.ts'],
    ['lib/records/visit-writer.ts', 'lib/index.ts'],
    ['ui/page.tsx', 'lib/index.ts'],
  ]);
  assert.deepEqual(circle(round), ['lib/index.ts', 'lib/session', 'lib/records', 'lib/index.ts']);
});

test('an arrow that goes up, aside or round is found', () => {
  assert.deepEqual(
    wrongArrows([
      ['app/start.tsx', 'features/visit/map-screen.tsx'],
      ['features/visit/map-screen.tsx', 'lib/index.ts'],
      ['lib/bytes.ts', 'ui/words.ts'],
      ['ui/page.tsx', 'features/visit/map-screen.tsx'],
      ['features/visit/map-screen.tsx', 'features/kit/words.ts'],
      ['lib/index.ts', 'test/tablet.ts'],
      ['lib/bytes.test.ts', 'ui/words.ts'],
    ]),
    [
      'lib/bytes.ts imports ui/words.ts, which is above it',
      'ui/page.tsx imports features/visit/map-screen.tsx, which is above it',
      'features/visit/map-screen.tsx imports features/kit/words.ts, of another feature',
      'lib/index.ts imports test/tablet.ts, which is for tests',
    ],
  );
  assert.deepEqual(
    circle([
      ['app/start.tsx', 'app/app.tsx'],
      ['app/app.tsx', 'app/lazy.ts'],
      ['app/lazy.ts', 'app/app.tsx'],
      ['app/lazy.ts', 'app/screens.tsx'],
      ['app/screens.tsx', 'app/lazy.ts'],
    ]),
    ['app/app.tsx', 'app/lazy.ts', 'app/app.tsx'],
  );
});
