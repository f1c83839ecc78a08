// @ts-check
// A hand that counts what it does: for the walk through a whole visit.
import { passTime } from './actions.mjs';

/** @typedef {import('playwright-core').Page} Page @typedef {import('playwright-core').Locator} Locator */

/**
 * Seconds that each kind of act takes by the model. They rest on the operators of
 * Card, Moran and Newell, "The keystroke-level model for user performance time with
 * interactive systems", Communications of the ACM 23 (1980): pointing takes 1.1 s, a
 * keystroke of an average typist 0.2 to 0.28 s, changing between hand and device
 * 0.4 s, preparing in the mind 1.35 s. Theirs was a mouse at a desk; that a tap costs
 * what pointing cost there is taken over, not measured. A typed field is put at 3 s:
 * the tap into it, and some eight keys or spoken words, of which Enter may be the
 * last. Taking in a new screen is put
 * at 1.2 s, less than their mental act, since most screens are known. Both are ours.
 * What is said, thought about, measured or waited for is not in it.
 */
export const seconds = { tap: 1.1, field: 3, screen: 1.2 };

/** @param {Page} page */
export function createHand(page) {
  const done = { taps: 0, fields: 0, screens: 1, scrolled: 0 };
  /** @type {Map<string, { taps: number, fields: number }>} */
  const parts = new Map();
  let part = 'start';
  let ahead = 0;
  let place = '';

  /** @param {'taps' | 'fields'} what @param {number} [n] */
  const add = (what, n = 1) => {
    done[what] += n;
    const here = parts.get(part) ?? { taps: 0, fields: 0 };
    here[what] += n;
    parts.set(part, here);
  };
  /** Brings it into the middle where it is not well in sight, and counts how far that was in screen heights. @param {Locator} target */
  const see = async (target) => {
    await target.waitFor();
    const moved = await target.evaluate((element) => {
      const { top, bottom } = element.getBoundingClientRect();
      // What lies under a bar at an edge is not in sight.
      const edge = 0.18 * innerHeight;
      const before = scrollY;
      if (top < edge || bottom > innerHeight - edge) element.scrollIntoView({ block: 'center' });
      return Math.abs(scrollY - before) / innerHeight;
    });
    done.scrolled += moved;
  };
  const arrived = () => {
    const { pathname } = new URL(page.url());
    if (place !== '' && pathname !== place) done.screens += 1;
    place = pathname;
  };
  /** One touch. @param {Locator} target */
  const tap = async (target) => {
    await see(target);
    await target.click();
    add('taps');
    await page.evaluate(() => new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve))));
    arrived();
  };
  /** One touch that lasts until something is so. @param {Locator} target @param {() => Promise<unknown>} so */
  const hold = async (target, so) => {
    await see(target);
    await target.hover();
    await page.mouse.down();
    await so();
    await page.mouse.up();
    add('taps');
  };
  /** A field that is typed into, or spoken; Enter may end it. @param {Locator} field @param {string} text @param {boolean} [enter] */
  const type = async (field, text, enter = false) => {
    await see(field);
    await field.fill(text);
    if (enter) await field.press('Enter');
    add('fields');
  };
  return {
    tap,
    hold,
    type,
    /** What comes now, for the table. @param {string} name */
    begin: (name) => {
      part = name;
    },
    /** Digits on the pad of a measuring screen. @param {string} digits */
    keys: async (digits) => {
      for (const digit of digits) await tap(page.locator('.pad-key').getByText(digit, { exact: true }));
    },
    /** Time goes by while a clock runs. @param {number} milliseconds */
    pass: async (milliseconds) => {
      ahead += milliseconds;
      await passTime(page, ahead);
    },
    figures: () => ({
      ...done,
      scrolled: Math.round(done.scrolled * 10) / 10,
      minutes: Math.round(((done.taps * seconds.tap + done.fields * seconds.field + done.screens * seconds.screen) / 60) * 10) / 10,
      parts,
    }),
  };
}

/** @typedef {ReturnType<typeof createHand>} Hand */
