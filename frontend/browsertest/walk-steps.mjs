// @ts-check
// The steps of the walk, in the order of a visit.
import { comesTo, savedByItself } from './actions.mjs';
import * as found from './walk-visit.mjs';

/** @typedef {import('playwright-core').Page} Page @typedef {import('./walk-hand.mjs').Hand} Hand */

/** @param {Page} page @param {string} what */
const saved = (page, what) =>
  page
    .locator('.saved')
    .filter({ hasText: new RegExp(`Saved on this tablet: .*${what}`) })
    .first()
    .waitFor();
/** @param {Page} page @param {string} heading */
const at = (page, heading) => page.getByRole('heading', { level: 1, name: heading, exact: true }).waitFor();

/** Opens a part of the visit from the side, or from the row of what is measured. @param {Page} page @param {Hand} hand @param {string} title */
async function open(page, hand, title) {
  const row = page.locator('.measure-nav a').filter({ hasText: new RegExp(`^${title}$`) });
  const side = page.locator('.rail a').filter({ has: page.getByText(title, { exact: true }) });
  await side.waitFor({ state: 'attached' });
  if (await row.isVisible()) await hand.tap(row);
  else {
    // Where something needs the whole width, the way leads over the map.
    if (!(await side.isVisible())) await hand.tap(page.getByRole('link', { name: 'Visit map' }).first());
    await hand.tap(
      side
        .or(page.locator('main a').filter({ has: page.getByText(title, { exact: true }) }))
        .filter({ visible: true })
        .first(),
    );
  }
  await page.locator('.rail a[aria-current="page"]').filter({ hasText: title }).waitFor({ state: 'attached' });
}

/** Walks the visit up to its signature; returns its id. @param {Page} page @param {Hand} hand */
export async function walkVisit(page, hand) {
  const visit = await begin(page, hand);
  await chooseControl(page, hand);
  await context(page, hand);
  await force(page, hand);
  await times(page, hand);
  await drive(page, hand);
  await mount(page, hand);
  await home(page, hand);
  await checklist(page, hand);
  await sign(page, hand);
  return visit;
}

/** @param {Page} page @param {Hand} hand */
async function begin(page, hand) {
  hand.begin('pack and start');
  await hand.tap(page.getByRole('link', { name: found.client }).first());
  await hand.tap(page.getByRole('link', { name: 'Start a visit' }));
  await hand.tap(page.getByText('gf', { exact: true }));
  await hand.tap(page.getByRole('button', { name: 'Start the visit' }));
  await at(page, 'Visit map');
  return new URL(page.url()).pathname.split('/').at(-1) ?? '';
}

/** @param {Page} page @param {Hand} hand */
async function context(page, hand) {
  hand.begin('notes and needs');
  await open(page, hand, 'Visit notes');
  for (const [label, text] of Object.entries(found.notes)) {
    const often = page.getByRole('group', { name: `Often: ${label}` }).getByText(text, { exact: true });
    if (await often.count()) await hand.tap(often);
    else await hand.type(page.getByLabel(label, { exact: true }), text);
    await page.getByLabel(label, { exact: true }).blur();
    await saved(page, label);
  }
  await open(page, hand, 'Needs');
  for (const [question, said] of [
    ['Is rough ground on a route', 'Yes'],
    ['Will a helper drive with', 'No'],
  ]) {
    const group = page.getByRole('group', { name: new RegExp(`^${question}`) });
    await hand.tap(group.getByText(said ?? '', { exact: true }));
    await saved(page, question ?? '');
  }
  await hand.tap(page.getByRole('group', { name: /^Base and mount/ }).getByText('Stable', { exact: true }));
  await saved(page, 'base and mount');
  for (const [label, value] of [
    [/^Hours of driving/, '3'],
    [/^Commands while driving/, '12'],
  ]) {
    const field = page.getByLabel(/** @type {RegExp} */ (label));
    const often = page.getByRole('group', { name: /** @type {RegExp} */ (label) }).getByText(String(value), { exact: true });
    if (await often.count()) await hand.tap(often);
    else await hand.type(field, String(value));
    await field.blur();
    await saved(page, String(label).slice(2, -1));
  }
  // What the client's page says of the course went along with the first answer.
  await page.getByText('Course of the condition: getting weaker fast, as on the client’s page.').waitFor();
  await hand.tap(page.getByRole('group', { name: /^How wet the right hand/ }).getByText('Dry', { exact: true }));
  await saved(page, 'right hand');
}

/** @param {Page} page @param {Hand} hand */
async function chooseControl(page, hand) {
  hand.begin('control and place');
  await open(page, hand, 'Control and place');
  await hand.tap(page.getByRole('group', { name: /^From the team/ }).getByText(found.control, { exact: true }));
  await hand.tap(page.getByRole('group', { name: 'Sites that often drive' }).getByText(found.site, { exact: true }));
  await hand.type(page.getByLabel(/driver’s switch/), '60');
  for (const text of ['kitchen, hall, bathroom', 'mornings']) await hand.tap(page.locator('.suggestion').getByText(text, { exact: true }));
  await savedByItself(page, 'control and place');
}

/** Readings by the pad: a whole number that is like the others keeps itself after a pause, any other by its key. @param {Page} page @param {Hand} hand @param {string} direction @param {readonly string[]} values */
async function pad(page, hand, direction, values) {
  const arm = page.locator('.rose-way, .cross-arm').filter({ hasText: new RegExp(`^${direction}`, 'i') });
  if (direction !== '' && !(await arm.locator('input').isChecked())) await hand.tap(arm);
  const kept = page.locator('.saved');
  for (const value of values) {
    await hand.keys(value);
    const done = kept.filter({ hasText: new RegExp(` ${value} (gf|mm)`) });
    const byItself = await done.waitFor({ timeout: 4_000 }).then(
      () => true,
      () => false,
    );
    if (!byItself) await hand.tap(page.locator('.pad-done'));
    await done.waitFor();
  }
}

/** @param {Page} page @param {Hand} hand */
async function force(page, hand) {
  hand.begin('force and travel');
  await open(page, hand, 'Force');
  for (const [direction, values] of found.rested) await pad(page, hand, direction, values);
  await hand.tap(page.locator('.place-toggles label').filter({ hasText: 'Tired' }));
  await pad(page, hand, found.tired.direction, found.tired.values);
  await hand.tap(page.locator('.place-toggles label').filter({ hasText: 'Rested' }));
  await open(page, hand, 'Travel');
  for (const [direction, value] of found.travel) await pad(page, hand, direction, [value]);
}

/** Holds the button down while it lasts. @param {Page} page @param {Hand} hand @param {number} count @param {import('playwright-core').Locator} [within] */
async function timer(page, hand, count, within = page.locator('.measure').first()) {
  const passed = () =>
    page.waitForFunction(() => Number(document.querySelector('.giant-on .giant-time')?.textContent?.split(':').at(-1)) >= 0.3);
  for (let n = 1; n <= count; n++) {
    await hand.hold(within.locator('.giant-held').first(), passed);
    await comesTo(() => within.locator('.readings').first().locator('li').count(), n);
  }
}

/** @param {Page} page @param {Hand} hand */
async function times(page, hand) {
  hand.begin('release, hold, unintended');
  await open(page, hand, 'Letting go');
  await timer(page, hand, found.releases);
  // Holding follows below when the last release is there.
  await timer(page, hand, 1, page.locator('.hold-below'));
  await open(page, hand, 'Force not meant');
  for (const [occasion, value] of found.unintended) await pad(page, hand, occasion, [value]);
  await open(page, hand, 'Switch force');
  await pad(page, hand, '', found.switchForce);
}

/** Answers every open item. Each finished part is followed by the next one below it. @param {Page} page @param {Hand} hand */
async function checklist(page, hand) {
  const [first = '', ...others] = found.parts;
  await open(page, hand, first);
  await at(page, first);
  await answerPart(hand, first, page.locator('.checklist'));
  for (const part of others) {
    const below = page.locator('.part-below').filter({ has: page.getByRole('heading', { level: 2, name: part, exact: true }) });
    await answerPart(hand, part, below);
  }
}

/** @param {Hand} hand @param {string} name @param {import('playwright-core').Locator} part */
async function answerPart(hand, name, part) {
  hand.begin(name);
  const cards = part.locator(':scope > .cards .item-card');
  await cards.first().waitFor();
  // One item by itself is as quickly answered by itself.
  if (name === 'Hand-over and training') {
    await hand.tap(part.getByRole('button', { name: /^All these are fine/ }));
    await part.getByText(/answered as fine: look at each/).waitFor();
  }
  // What was measured elsewhere is taken together where the first of it is asked.
  if (name === 'Switches and mounting') {
    const together = part.getByRole('button', { name: `Take all ${found.together} that were measured` });
    await hand.tap(together);
    await together.waitFor({ state: 'detached' });
  }
  const count = await cards.count();
  for (let card = 0; card < count; card++) await answer(hand, cards.nth(card));
  for (const id of found.asked) await sideQuestion(hand, part.locator(`:scope > .computed-strip #${id}`));
}

/** A side question that is answered no. @param {Hand} hand @param {import('playwright-core').Locator} card */
async function sideQuestion(hand, card) {
  const no = card.locator('.facts fieldset').getByText('No', { exact: true });
  if ((await no.count()) === 0 || (await card.locator('.facts input[value="no"]').isChecked())) return;
  await hand.tap(no);
  await ticked(card);
}

/** The last entry of a card is on the tablet. @param {import('playwright-core').Locator} card */
const ticked = (card) => card.locator('.saved').filter({ hasText: 'Saved on this tablet' }).waitFor();

/** @param {Hand} hand @param {import('playwright-core').Locator} card */
async function answer(hand, card) {
  const page = card.page();
  const id = (await card.getAttribute('id')) ?? '';
  const wanted = found.answers[id];
  const rows = card.locator('.levels label');
  const counts = card.locator('.segments:not(.facts *)');
  if ((await card.locator('.standing-answered').count()) > 0) {
    if (found.asked.includes(id)) await sideQuestion(hand, card);
    return;
  }
  if (await rows.count()) {
    await hand.tap(wanted === undefined ? rows.first() : rows.filter({ has: page.locator(`input[value="${String(wanted)}"]`) }));
  } else if (await counts.count()) {
    const values = Array.isArray(wanted) ? wanted : [wanted];
    for (let side = 0; side < (await counts.count()); side++) {
      const label = counts.nth(side).locator('label');
      await hand.tap(values[side] === undefined ? label.last() : label.filter({ has: page.locator(`input[value="${values[side]}"]`) }));
    }
  } else {
    await hand.type(card.locator('.number-body input'), String(wanted), true);
  }
  await ticked(card);
  if (found.asked.includes(id)) await sideQuestion(hand, card);
}

/** @param {Page} page @param {Hand} hand */
async function mount(page, hand) {
  hand.begin('mount');
  await open(page, hand, 'Mount');
  await hand.tap(page.getByText(found.mount.kind, { exact: true }));
  await hand.tap(page.getByText(found.mount.fixedTo, { exact: true }));
  for (const [label, value] of Object.entries(found.mount.figures)) await hand.type(page.getByLabel(found.beginning(label)), value);
  await hand.tap(page.getByRole('group', { name: /^Often: Gap from knob/ }).getByText(found.mount.gap, { exact: true }));
  for (const check of found.mount.checks) await hand.tap(page.locator('.check').getByText(check, { exact: true }));
  await savedByItself(page, 'the mounting');
}

/** @param {Page} page @param {Hand} hand */
async function drive(page, hand) {
  hand.begin('trial');
  await open(page, hand, 'Driving trial');
  for (const run of found.runs) {
    const conditions = page.locator('.trial-conditions');
    for (const choice of [run.where, run.state]) {
      const label = conditions.locator('label').filter({ hasText: new RegExp(`^${choice}$`) });
      if (!(await label.locator('input').isChecked())) await hand.tap(label);
    }
    await hand.tap(page.getByRole('button', { name: 'Start the clock' }));
    for (const count of run.counts) await hand.tap(page.locator('.tally-add').filter({ hasText: count }));
    await hand.pass(run.minutes * 60_000);
    await hand.tap(page.getByRole('button', { name: 'Stop the clock' }));
    await hand.type(page.getByLabel('Metres driven'), run.metres, true);
    await page
      .locator('.saved')
      .filter({ hasText: `${run.metres} m` })
      .waitFor();
  }
}

/** @param {Page} page @param {Hand} hand */
async function home(page, hand) {
  hand.begin('home');
  await open(page, hand, 'Home');
  for (const [label, value] of Object.entries(found.chair)) await hand.type(page.getByLabel(label, { exact: true }), value);
  await hand.tap(page.getByText('middle', { exact: true }));
  await savedByItself(page, 'the chair');
  await page.getByText(/1120 mm long, 640 mm wide/).waitFor();
  for (const { name, figures } of found.places) {
    await hand.tap(page.getByRole('group', { name: 'Places that most homes have' }).getByText(name, { exact: true }));
    const typed = Object.entries(figures);
    for (const [label, value] of typed) await hand.type(page.getByLabel(label, { exact: true }), value, typed.at(-1)?.[0] === label);
    await page.getByRole('heading', { level: 3, name }).waitFor();
  }
}

/** @param {Page} page @param {Hand} hand */
async function sign(page, hand) {
  hand.begin('next steps and sign');
  await open(page, hand, 'Sign the visit');
  await hand.type(page.getByLabel('Recheck on'), found.next.recheck);
  await hand.type(page.getByLabel('Who does what by when'), found.next.note);
  await savedByItself(page, 'what happens next');
  await hand.tap(page.getByRole('button', { name: 'Sign this visit' }));
  await page.getByRole('heading', { name: 'Amendments' }).waitFor();
}
