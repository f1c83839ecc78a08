// @ts-check
// What the stories in WebKit touch, as XPaths in the words of the screen.
import assert from 'node:assert/strict';
import { password } from './setup.mjs';
import { until } from './webdriver.mjs';

/** @typedef {Awaited<ReturnType<typeof import('./webdriver.mjs').openSession>>} Session */

export const button = (/** @type {string} */ name) => `//button[normalize-space()="${name}"]`;
export const heading = (/** @type {string} */ name) => `//h1[normalize-space()="${name}"]`;
export const link = (/** @type {string} */ name) => `//a[contains(normalize-space(), "${name}")]`;
export const field = (/** @type {string} */ name) =>
  `//*[self::input or self::textarea][@id=//label[starts-with(normalize-space(), "${name}")]/@for]`;
export const tile = (/** @type {string} */ name) =>
  `//a[contains(@class, "tile") or contains(@class, "rail-part")][.//span[normalize-space()="${name}"]]`;
export const saved = '//*[contains(@class, "saved")][contains(., "Saved on this tablet")]';

/** @param {Session} page @param {string} url @param {string} [who] */
export async function signIn(page, url, who = 'marit') {
  await page.go(url);
  await page.type(field('Name'), who);
  await page.type(field('Password'), password);
  await page.touch(button('Sign in'));
  await until(
    'signed in',
    async () =>
      (await page.run('return document.querySelector(".top-bar") !== null || document.body.innerText.includes("I have read this")')) ===
      true,
  ).catch(async () => assert.fail(`not signed in; the page says: ${await page.run('return document.body.innerText')}`));
  if (await page.run('return document.querySelector(".top-bar") === null')) await page.touch(button('I have read this'));
  await page.see('//header[contains(@class, "top-bar")]');
}
