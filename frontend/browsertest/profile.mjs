// @ts-check
// What the tests of the browser's profile share: the words that must not lie in
// it, and how they wait until the browser has written what it keeps of a page.
import assert from 'node:assert/strict';
import { typeOpenly } from './planted.mjs';
import { readProfile } from './profile-text.mjs';
import { follow, tile } from './actions.mjs';

/** @typedef {import('playwright-core').Page} Page */

/** What is typed in these stories, besides names of the invented service. */
export const typed = {
  saved: 'Quillon Marrowby is wary of kerbs',
  unsaved: 'Ottoline says half a sente',
  client: 'Zephyrine Quarrell',
  reference: 'QX-7741-ZQ',
  search: 'Hazel Or',
  notFound: 'Wilhelmina Thrupp',
  reason: 'Evadne asked for it',
  person: 'Balthasar Nettleship',
};

/** Every name that the server knows, and what is typed here. @param {Page} page */
export async function secretWords(page) {
  const url = new URL(page.url()).origin;
  const get = async (/** @type {string} */ path) => (await page.request.get(`${url}/api/v1/${path}`)).json();
  const { people } = await get('people');
  const { teams } = await get('session');
  const pages = await Promise.all(teams.map((/** @type {{ id: string }} */ team) => get(`teams/${team.id}/caseload?status=any&limit=500`)));
  const rows = pages.flatMap((/** @type {{ rows: { name: string }[] }} */ one) => one.rows);
  const names = [...people, ...rows].map((/** @type {{ name: string }} */ one) => one.name);
  assert.ok(names.length > 20 && names.every(Boolean), 'there are names to look for');
  return [...new Set([...names, ...Object.values(typed), ...Object.values(typed).flatMap((text) => text.split(' ').slice(0, 2))])].filter(
    (word) => word.length > 5,
  );
}

/** Waits until every word lies in the profile. @param {string} profile @param {readonly string[]} words @param {string} [within] */
export async function comesToLie(profile, words, within) {
  const end = Date.now() + 60_000;
  let missing = words;
  while (missing.length > 0) {
    if (Date.now() > end) assert.fail(`planted in clear and not found: ${missing.join(', ')}`);
    const text = await readProfile(profile, within);
    missing = words.filter((word) => text.holding(word).length === 0);
  }
}

/**
 * Asserts that none of the words lies in the profile, while what was planted does.
 * @param {string} profile @param {readonly string[]} words @param {readonly string[]} planted @param {string} when
 */
export async function nothingInClear(profile, words, planted, when) {
  const text = await readProfile(profile);
  const missed = planted.filter((word) => text.holding(word).length === 0);
  assert.deepEqual(missed, [], `${when}: the search finds what lies in clear`);
  const found = words.flatMap((word) => text.holding(word).map((file) => `${word}: ${file}`));
  assert.deepEqual(found, [], `${when}: nothing lies in clear`);
}

/** Types into fields that nobody protects, and waits until the browser has written what it keeps of the page. @param {string} profile @param {Page} page */
export async function writtenDown(profile, page) {
  const words = await typeOpenly(page);
  await comesToLie(profile, words, 'Default/Sessions');
  return words;
}

/** Opens the notes of the visit under way. @param {Page} page */
export async function toNotes(page) {
  await follow(page, 'Today');
  await follow(page, 'Heath Ellery');
  await follow(page, 'Go on with the open visit');
  await tile(page, 'Visit notes');
}
