// @ts-check
// Walks one typical invented visit from end to end at tablet size, counts taps, typed
// fields, screens and heights scrolled, and says what that takes by a keystroke-level
// model (walk-hand.mjs). What was entered must come to testdata/walk/visit.json: a
// quicker walk that enters less is none. WRITE=1 writes that file.
import assert from 'node:assert/strict';
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { keptOffline, signIn, syncNow } from './actions.mjs';
import { closeAll, openBrowser, remove, scratch, startServer } from './setup.mjs';
import { createHand } from './walk-hand.mjs';
import { walkVisit } from './walk-steps.mjs';
import { client } from './walk-visit.mjs';

const expected = join(import.meta.dirname, '..', '..', 'testdata', 'walk', 'visit.json');
/** What the walk may cost; more is a failure. */
const most = { taps: 220, fields: 25, minutes: 6 };

const server = await startServer();
const profile = await scratch('walk');
const tablet = await openBrowser(profile);
const { page } = tablet;
await signIn(page, server.url, 'marit');
await page.getByRole('link', { name: client }).waitFor({ timeout: 90_000 });
// The kit comes with the team's entries, and is packed as it is when the visit begins.
await page.getByText(/^Taking the clients of/).waitFor({ state: 'detached', timeout: 180_000 });
await keptOffline(page);
const hand = createHand(page);
const visit = await walkVisit(page, hand);
const { parts, ...figures } = hand.figures();
for (const [name, { taps, fields }] of parts)
  console.log(`  ${name.padEnd(24)} ${String(taps).padStart(4)} taps ${String(fields).padStart(3)} typed`);
console.log(
  `one visit: ${figures.taps} taps, ${figures.fields} typed fields, ${figures.screens} screens, ${figures.scrolled} heights scrolled, ${figures.minutes} minutes of entry`,
);
console.log(`wanted at most: ${most.taps} taps, ${most.fields} typed fields, ${most.minutes} minutes`);

await syncNow(page);
const { visit: kept } = await (await page.request.get(`${server.url}/api/v1/visits/${visit}`)).json();
const found = `${JSON.stringify(content(kept), null, 2)}\n`;
if (process.env.WRITE === '1') await writeFile(expected, found);
assert.deepEqual(JSON.parse(found), JSON.parse(await readFile(expected, 'utf8')), 'the visit holds what was found in it');
console.log('the visit holds the same as in testdata/walk/visit.json');
for (const [what, goal] of Object.entries(most)) {
  const took = figures[/** @type {keyof typeof most} */ (what)];
  assert.ok(took <= goal, `${took} ${what}, at most ${goal} wanted`);
}
await closeAll();
await server.stop();
await Promise.all([server.data, profile].map(remove));

// What differs from walk to walk is left out: who, when, where it lies, and how an answer came about.
/** @param {any} of @returns {any} */
function content(of) {
  const gone = new Set(['ref', 'by', 'at', 'pos', 'seen', 'method', 'replaces', 'place_id', 'result', 'log', 'engine']);
  /** @type {(value: any) => any} */
  const strip = (value) => {
    if (Array.isArray(value)) return value.map(strip);
    if (typeof value !== 'object' || value === null) return value;
    /** @type {Record<string, any>} */
    const rest = {};
    for (const [name, one] of Object.entries(value)) if (!gone.has(name)) rest[name] = strip(one);
    // Times are taken with a clock that runs: that one was taken is compared, and for how many minutes a run was.
    if (rest.unit === 's' && typeof rest.value === 'number') rest.value = 'timed';
    if (typeof rest.seconds === 'number') rest.seconds = Math.round(rest.seconds / 60) * 60;
    return rest;
  };
  const { id: _id, client: _client, team: _team, checklist: _checklist, started: _started, places = [], answers, ...others } = of;
  return strip({
    ...others,
    answers: answers.toSorted((/** @type {any} */ a, /** @type {any} */ b) => (a.item < b.item ? -1 : 1)),
    places: places.map((/** @type {any} */ { place: _place, ...one }) => one),
  });
}
