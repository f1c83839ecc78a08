// @ts-check
// Nothing typed is lost: every form of every screen is filled half, the browser is
// killed, and everything stands there again as it was left. Forms are found by
// walking the screens: one that keeps nothing is noticed without being named here.
import assert from 'node:assert/strict';
import { afterEach, test } from 'node:test';
import { killBrowser } from './fault.mjs';
import { comesTo, draftRows, itemCard, keptOffline, lockTablet, openVisit, signIn } from './actions.mjs';
import { clinicianPlaces, officePlaces } from './screen-list.mjs';
import { closeAll, named, openBrowser, useServer } from './setup.mjs';

/** @typedef {import('playwright-core').Page} Page */
/** @typedef {{ what: string, value: string }} Field */

const service = useServer();
afterEach(closeAll);

/** How the screens of this device look: the browser keeps it by itself, within a minute. */
const LOOKS = [
  'The set while it is taken',
  'A pause after a whole number that is like the others',
  'Theme',
  'Buttons within reach of',
  'Text size',
  'Sound and buzz when counting',
];

/**
 * What is no form: a password is never kept; what is searched for, and which rows or
 * views of a list are shown, is looked at and said to nobody.
 */
const NO_FORM = {
  selector: 'input[type=password], input[type=search], input[autocomplete=username], .filters *, .pack-kit *',
  groups: [
    'Show',
    'Hide names',
    'Measured site',
    'Person seen from',
    'Controls drawn as lines',
    'Compared controls',
    'Scale',
    'Team',
    ...LOOKS,
  ],
};

/** What is one choice and shown on several screens: it is made where it is met first. */
const SHARED = ['The person is', 'Limb or head is'];

/**
 * Runs in the page: uses every other thing of each sort on what is shown, as somebody
 * would, and says how many fields were typed into. What is chosen is saved at once;
 * what is typed is never left, so that it is not saved and must be there all the same.
 * @param {{ noForm: typeof NO_FORM, half: number, most: number, made: string[] }} how
 *   `half` is 0 or 1; `most` of a sort on one screen; `made` are choices that are not made again
 */
async function fillHalf({ noForm, half, most, made }) {
  const drawn = () => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
  const isForm = (/** @type {Element} */ one) => {
    const field = /** @type {HTMLInputElement} */ (one);
    const names = [field.closest('fieldset')?.querySelector('legend')?.textContent, field.labels?.[0]?.textContent].map((name) =>
      name?.trim(),
    );
    return !one.matches(noForm.selector) && !field.disabled && !names.some((name) => noForm.groups.includes(name ?? ''));
  };
  const all = (/** @type {string} */ selector) =>
    /** @type {HTMLInputElement[]} */ ([...document.querySelectorAll(`main :is(${selector})`)].filter(isForm));
  const some = (/** @type {HTMLInputElement[]} */ list) => list.filter((_, at) => at % 2 === half).slice(0, most);
  const set = (/** @type {HTMLElement} */ field, /** @type {string} */ value) => {
    Object.getOwnPropertyDescriptor(Object.getPrototypeOf(field), 'value')?.set?.call(field, value);
    field.dispatchEvent(new Event('input', { bubbles: true }));
    if (field instanceof HTMLSelectElement) field.dispatchEvent(new Event('change', { bubbles: true }));
  };
  const used = { choices: 0, touches: 0, typed: 0, legends: /** @type {string[]} */ ([]) };
  const legendOf = (/** @type {Element} */ one) => one.closest('fieldset')?.querySelector('legend')?.textContent?.trim() ?? '';
  const click = async (/** @type {HTMLElement | undefined} */ one) => {
    if (one === undefined || one.getAttribute('aria-disabled') === 'true') return;
    one.click();
    used.touches += 1;
    await drawn();
  };

  // Radios by their group: the next of what is chosen.
  const radios = all('input[type=radio]').filter((one) => !made.includes(legendOf(one)));
  for (const { name } of some(radios.filter((one, at) => radios.findIndex((other) => other.name === one.name) === at))) {
    const group = all('input[type=radio]').filter((one) => one.name === name);
    const next = group[(group.findIndex((one) => one.checked) + 1) % group.length];
    if (next === undefined) continue;
    used.legends.push(legendOf(next));
    next.click();
    used.choices += 1;
    await drawn();
  }
  for (const one of some(all('input[type=checkbox]'))) {
    one.click();
    used.choices += 1;
    await drawn();
  }
  for (const one of some(all('select'))) {
    const list = /** @type {HTMLSelectElement} */ (/** @type {unknown} */ (one));
    set(one, list.options[(list.selectedIndex + 1) % list.options.length]?.value ?? '');
    used.choices += 1;
    await drawn();
  }
  await click(all('button[aria-label^="Count by touch"]')[half]);
  await click(all('.counter-pad')[half]);
  await click(all('.tally-add')[half]);
  await click(all('.pad-key')[half]);
  await click(all('button.set-taken')[half]);
  // A question in front of the page, with its own fields.
  await click(all('button').find((one) => one.textContent?.endsWith('…') && one.closest('dialog') === null));

  all('textarea, input[type=text], input[type=date]').forEach((field, at) => {
    if (at % 2 !== half || field.classList.contains('pad-input')) return;
    used.typed += 1;
    const words = field.inputMode === 'text' || field.inputMode === '' || field.tagName === 'TEXTAREA';
    set(field, field.type === 'date' ? `2026-03-0${(at % 8) + 1}` : words ? `half a sente ${at}` : String(at + 1));
  });
  return used;
}

/**
 * Runs in the page: what stands there, each field by its label and how often that label
 * stood before, what is counted, and which question is asked.
 * @param {typeof NO_FORM} noForm
 */
function standing(noForm) {
  /** @type {Record<string, number>} */
  const counted = {};
  const fields = [...document.querySelectorAll('main :is(input, textarea, select)')].flatMap((one) => {
    const field = /** @type {HTMLInputElement} */ (one);
    const group = field.closest('fieldset')?.querySelector('legend')?.textContent?.trim() ?? '';
    const own = (field.labels?.[0]?.textContent ?? field.getAttribute('aria-label') ?? '').trim();
    if (one.matches(noForm.selector) || noForm.groups.includes(group) || noForm.groups.includes(own)) return [];
    // How many readings there are changes with what is saved elsewhere.
    const label = `${group} ${own}`.replace(/,? ?\d+ of \d+ readings|, needed|Reading \d+( of \d+)?/g, '');
    counted[label] = (counted[label] ?? 0) + 1;
    const value = field.type === 'radio' || field.type === 'checkbox' ? String(field.checked) : field.value;
    return [`${label} ${counted[label]}: ${value}`];
  });
  const touched = [...document.querySelectorAll('main :is(.counter-pad, .tally-add, .set-taken[aria-pressed=true])')];
  const asked = [...document.querySelectorAll('dialog[open] h2')];
  return [...fields, ...touched.map((one) => `touched: ${one.textContent}`), ...asked.map((one) => `asked: ${one.textContent}`)];
}

/** What lies in the rows of drafts. @param {Page} page */
const rows = async (page) => (await draftRows(page)).join(' ');

/** Waits until what was typed is on the disk; all of a screen goes there in one write. @param {Page} page @param {string} before */
async function written(page, before) {
  const end = Date.now() + 15_000;
  while ((await rows(page)) === before) assert.ok(Date.now() < end, `what is typed at ${page.url()} comes to the disk`);
}

/** What stands on a screen once two looks at it and at the disk are the same. @param {Page} page */
async function settled(page) {
  const look = async () => JSON.stringify([await page.evaluate(standing, NO_FORM), await rows(page)]);
  const end = Date.now() + 15_000;
  for (let last = ''; ;) {
    const now = await look();
    if (now === last) return page.evaluate(standing, NO_FORM);
    assert.ok(Date.now() < end, `${page.url()} comes to rest`);
    last = now;
  }
}

/** Goes to an address within the app. @param {Page} page @param {string} to */
const within = (page, to) =>
  page.evaluate((path) => {
    if (location.pathname + location.search === path) return;
    // A question is in front of the page, and nothing behind it can be touched.
    for (const one of document.querySelectorAll('dialog')) one.close();
    history.pushState(null, '', path);
    dispatchEvent(new PopStateEvent('popstate'));
  }, to);

/** @typedef {{ name: string, path: string, fields: string[] }} Left */
/** @typedef {{ name: string, gone: string[], now: string[] }} Lost */

/**
 * What of a screen is not there any more; waits for it as somebody would.
 * @param {Page} page @param {Left} left @returns {Promise<Lost[]>}
 */
async function lostOf(page, { name, path, fields }) {
  await within(page, path);
  const end = Date.now() + 15_000;
  for (;;) {
    const now = await page.evaluate(standing, NO_FORM);
    const gone = fields.filter((one) => !now.includes(one));
    if (gone.length === 0) return [];
    if (Date.now() > end) return [{ name, gone, now: now.filter((one) => !fields.includes(one)) }];
  }
}

/** At night each screen is also left by every other way; else each way is gone once. */
const EVERY_WAY = process.env.KEPT === 'all';

/**
 * Ways to leave a screen and to come back, the first two without a moment in which
 * what was typed would be written by itself.
 * @type {Readonly<Record<string, (tablet: Awaited<ReturnType<typeof openBrowser>>, who: string, url: string) => Promise<Page>>>}
 */
const WAYS = {
  'the way back': async ({ page }) => {
    await within(page, '/about');
    await page.getByRole('heading', { level: 1, name: 'About and cautions' }).waitFor();
    return page;
  },
  'a lock': async ({ page }, who, url) => {
    await page.evaluate(() => {
      for (const one of document.querySelectorAll('dialog')) one.close();
    });
    await lockTablet(page);
    await page.getByLabel('Password', { exact: true }).waitFor();
    await signIn(page, url, who);
    return page;
  },
  'a closed tab': async ({ context, page }, who, url) => {
    const [next] = await Promise.all([context.newPage(), page.close({ runBeforeUnload: true })]);
    await signIn(next, url, who);
    return next;
  },
};

/**
 * Fills half of each screen, kills the browser, and compares; then leaves screens in
 * other ways, with the other half just typed.
 * @param {string} url @param {string} who @param {readonly import('./screen-list.mjs').Place[]} places
 * @param {{ typed: number, choices: number, touches: number }} least how much there is at least
 * @param {(keyof typeof WAYS)[]} ways the ways that are gone besides
 */
async function walk(url, who, places, least, ways) {
  const profile = await service.profile();
  let tablet = await openBrowser(profile);
  /** @type {string[]} */
  const made = [];
  const fill = async (/** @type {Page} */ page, half = 0) => {
    const filled = await page.evaluate(fillHalf, { noForm: NO_FORM, half, most: 3, made });
    made.push(...filled.legends.filter((one) => SHARED.includes(one)));
    return filled;
  };
  /** @type {Left[]} */
  const left = [];
  const used = { typed: 0, choices: 0, touches: 0 };
  for (const place of places) {
    await place.go(tablet.page);
    const { pathname, search } = new URL(tablet.page.url());
    if (left.some((one) => one.path === pathname + search) || pathname === '/sign-in') continue;
    const before = await rows(tablet.page);
    const here = await fill(tablet.page);
    used.typed += here.typed;
    used.choices += here.choices;
    used.touches += here.touches;
    if (here.typed + here.choices + here.touches === 0) continue;
    if (here.typed > 0) await written(tablet.page, before);
    left.push({ name: place.name, path: pathname + search, fields: await settled(tablet.page) });
    await tablet.page.evaluate(() => {
      for (const one of document.querySelectorAll('dialog')) one.close();
    });
  }
  for (const sort of /** @type {const} */ (['typed', 'choices', 'touches']))
    assert.ok(used[sort] >= least[sort], `${used[sort]} ${sort} were found, ${least[sort]} at least are there`);
  await keptOffline(tablet.page);
  await killBrowser(profile, tablet.context);
  tablet = await openBrowser(profile);
  await signIn(tablet.page, url, who);
  let lost = /** @type {Lost[]} */ ([]);
  for (const one of left) lost = [...lost, ...(await lostOf(tablet.page, one))];
  assert.deepEqual(lost, /** @type {Lost[]} */ ([]), 'everything stands there as it was left');

  let page = tablet.page;
  // Those with most to type.
  const texts = (/** @type {Left} */ { fields }) => fields.filter((one) => one.includes('half a sente')).length;
  const full = left.toSorted((a, b) => texts(b) - texts(a));
  for (const [nth, way] of (EVERY_WAY ? Object.keys(WAYS) : ways).entries())
    for (const one of EVERY_WAY ? left : full.slice(nth % full.length).slice(0, 1)) {
      await lostOf(page, one);
      const before = await rows(page);
      const { typed } = await fill(page, 1);
      one.fields = await page.evaluate(standing, NO_FORM);
      // A tab that is gone takes what was typed in the last moment with it.
      if (way === 'a closed tab' && typed > 0) await written(page, before);
      page = (await WAYS[way]?.({ ...tablet, page }, who, url)) ?? page;
      lost = [...lost, ...(await lostOf(page, { ...one, name: `${one.name}, ${way}` }))];
    }
  assert.deepEqual(lost, [], 'everything stands there whichever way it was left');
  assert.deepEqual(tablet.problems, []);
  await tablet.close();
}

/** Counts in the page how many wake locks are held. @param {import('playwright-core').BrowserContext} context */
const countAwake = (context) =>
  context.addInitScript(() => {
    Object.assign(globalThis, { awake: 0 });
    const page = /** @type {{ awake: number }} */ (/** @type {unknown} */ (globalThis));
    Object.defineProperty(navigator, 'wakeLock', {
      value: {
        request: async () => {
          page.awake += 1;
          const lock = {
            released: false,
            release: async () => {
              lock.released = true;
              page.awake -= 1;
            },
          };
          return lock;
        },
      },
    });
  });

/** @param {Page} page @param {number} many */
const awake = (page, many) =>
  page.waitForFunction((want) => /** @type {{ awake?: number }} */ (/** @type {unknown} */ (globalThis)).awake === want, many);

// The first: what is typed in the next ones may choose another site, and a hold is of one.
test('a clock that runs keeps the tablet awake and open, and is taken up again after a kill', async () => {
  const profile = await service.profile();
  let tablet = await openBrowser(profile);
  await countAwake(tablet.context);
  const { url } = service.server;
  await signIn(tablet.page, url, 'marit');
  await openVisit(tablet.page, 'Heath Ellery');
  const visit = new URL(tablet.page.url()).pathname.replace(/\/$/, '');
  await keptOffline(tablet.page);
  await awake(tablet.page, 0);
  const before = await rows(tablet.page);
  await within(tablet.page, `${visit}/measure/hold`);
  await tablet.page.locator('.giant-button').click();
  await tablet.page.locator('.giant-on').waitFor();
  await written(tablet.page, before);
  await awake(tablet.page, 1);
  const held = await rows(tablet.page);
  await within(tablet.page, `${visit}/part/mnt`);
  await tablet.page.getByRole('button', { name: 'Time it: Clearing the mount' }).click();
  await written(tablet.page, held);
  await killBrowser(profile, tablet.context);

  tablet = await openBrowser(profile);
  await countAwake(tablet.context);
  const { page } = tablet;
  await signIn(page, url, 'marit');
  await within(page, `${visit}/measure/hold`);
  // A machine that took long to start is asked whether the clock ran on.
  const [runs, goOn] = [page.locator('.giant-on'), page.getByRole('button', { name: 'It still runs: go on' })];
  await runs.or(goOn).first().waitFor();
  if (await goOn.isVisible()) await goOn.click();
  await runs.click();
  await page.locator('.saved').filter({ hasText: 'forward held' }).waitFor();

  // Nobody touches it for longer than the lock waits.
  await within(page, `${visit}/part/mnt`);
  const lane = itemCard(page, 'Clearing the mount');
  const stop = lane.getByRole('button', { name: /^Stop the clock/ });
  await stop.or(goOn).first().waitFor();
  if (await goOn.isVisible()) await goOn.click();
  await awake(page, 1);
  const untouched = () =>
    page.evaluate(() => {
      const now = Date.now;
      Date.now = () => now() + 11 * 60_000;
      document.dispatchEvent(new Event('visibilitychange'));
    });
  await untouched();
  await stop.click();
  await lane.locator('.saved').filter({ hasText: 'Saved on this tablet' }).waitFor();
  await awake(page, 0);
  await untouched();
  await page.getByRole('heading', { level: 1, name: 'Sign in' }).waitFor();
  assert.deepEqual(tablet.problems, []);
  await tablet.close();
});

test('a killed browser loses nothing that a clinician was typing, on any screen', async () => {
  const url = named(service.server.url);
  // Screens of trouble change the tablet itself; they have no form.
  const places = clinicianPlaces(url).filter(({ name }) => !/^(account-sessions|trouble|set-aside|withdrawn|damaged|sync-)/.test(name));
  const last = places.findIndex(({ name }) => name === 'account');
  await walk(url, 'marit', places.slice(0, last + 1), { typed: 35, choices: 45, touches: 15 }, ['the way back', 'a lock']);
});

test('a killed browser loses nothing that a lead was typing, on any screen', async () => {
  const { url } = service.server;
  const places = officePlaces(url).filter(({ name }) => name !== 'people');
  await walk(url, 'ilse', places, { typed: 4, choices: 4, touches: 0 }, ['a closed tab']);
});

test('a killed browser loses nothing that an administrator was typing about an account', async () => {
  const { url } = service.server;
  const people = {
    name: 'people',
    go: async (/** @type {Page} */ page) => {
      await signIn(page, url, 'perrin');
      await within(page, '/people');
      await page.getByText('Marit Ashgrove').first().waitFor();
      await page.getByRole('button', { name: 'New account' }).click();
      await page.getByLabel('Sign-in name', { exact: true }).waitFor();
    },
  };
  await walk(url, 'perrin', [people], { typed: 2, choices: 2, touches: 0 }, ['the way back']);
});

/** Lets what is encrypted in the page wait for the test. @param {Page} page */
const slowDisk = (page) =>
  page.evaluate(() => {
    const encrypt = crypto.subtle.encrypt.bind(crypto.subtle);
    const gate = new Promise((open) => Object.assign(globalThis, { goOn: open }));
    crypto.subtle.encrypt = (...ask) => gate.then(() => encrypt(...ask));
  });

test('a locked tablet asks for no password before what was being typed is on the disk', async () => {
  const { page, context, problems, close } = await openBrowser(await service.profile());
  const { url } = service.server;
  await signIn(page, url, 'marit');
  await openVisit(page, 'Heath Ellery');
  const notes = `${new URL(page.url()).pathname.replace(/\/$/, '')}/notes`;
  await within(page, notes);
  const risks = (/** @type {Page} */ one) => one.getByLabel('Risks talked through', { exact: true });
  await risks(page).waitFor();
  await slowDisk(page);
  await risks(page).pressSequentially('the kerb at the sho');
  await lockTablet(page);
  await page.getByText('Writing down what was being typed').waitFor();
  const password = page.getByLabel('Password', { exact: true });
  assert.deepEqual([await password.count(), await page.getByText('Heath Ellery').count()], [0, 0]);
  await page.evaluate(() => /** @type {{ goOn?: () => void }} */ (/** @type {unknown} */ (globalThis)).goOn?.());
  await password.waitFor();
  const [next] = await Promise.all([context.newPage(), page.close()]);
  await signIn(next, url, 'marit');
  await within(next, notes);
  await risks(next).waitFor();
  assert.equal(await risks(next).inputValue(), 'the kerb at the sho');
  assert.deepEqual(problems, []);
  await close();
});

test('a form that saves itself leaves what is half typed in another tab to that tab', async () => {
  const { page: one, context, problems, close } = await openBrowser(await service.profile());
  const { url } = service.server;
  await signIn(one, url, 'marit');
  await openVisit(one, 'Heath Ellery');
  const visit = new URL(one.url()).pathname.split('/')[2] ?? '';
  const two = await context.newPage();
  await signIn(two, url, 'marit');
  const plan = async () => {
    const { recheck, note } = (await (await two.request.get(`${url}/api/v1/visits/${visit}`)).json()).visit.plan ?? {};
    return [recheck !== undefined && recheck !== '', note ?? ''];
  };
  const steps = (/** @type {Page} */ page) => page.getByLabel('Who does what by when');
  for (const page of [one, two]) {
    await within(page, `/visits/${visit}/sign`);
    await steps(page).waitFor();
  }
  await steps(one).fill('');
  await steps(one).pressSequentially('Lower the bathroom si');
  await comesTo(() => steps(two).inputValue(), 'Lower the bathroom si');
  await two.getByText('in 8 weeks', { exact: true }).click();
  await two.getByText('Saved on this tablet: what happens next').waitFor();
  await comesTo(plan, [true, '']);
  await comesTo(async () => (await one.getByLabel('Recheck on').inputValue()) !== '', true);
  await steps(one).pressSequentially('ll');
  await comesTo(() => steps(two).inputValue(), 'Lower the bathroom sill');
  await steps(one).blur();
  await comesTo(plan, [true, 'Lower the bathroom sill']);
  assert.deepEqual(problems, []);
  await close();
});

test('after a reload the PIN resumes; when the worker was ended, the password is asked for and said why', async () => {
  const { page, context, problems, close } = await openBrowser(await service.profile());
  const url = named(service.server.url);
  await signIn(page, url, 'marit');
  await keptOffline(page);
  await page.evaluate(() => {
    history.pushState(null, '', '/people');
    dispatchEvent(new PopStateEvent('popstate'));
  });
  await page.getByText('PIN for today').click();
  await page.getByLabel('New PIN').fill('204060');
  await page.getByRole('button', { name: 'Set the PIN' }).click();
  await page.getByText('brings you back for two hours').waitFor();
  await page.reload();
  // Wrong tries in the page before and after a reload are one count.
  for (const left of ['4 tries are', '3 tries are']) {
    await page.getByLabel('PIN', { exact: true }).fill('111112');
    await page.getByRole('button', { name: 'Go on' }).click();
    await page.getByText(`${left} left`).waitFor();
  }
  await page.reload();
  await page.getByLabel('PIN', { exact: true }).fill('111112');
  await page.getByRole('button', { name: 'Go on' }).click();
  await page.getByText('2 tries are left').waitFor();
  await page.getByLabel('PIN', { exact: true }).fill('');
  for (const key of '204060')
    await page.getByRole('group', { name: 'Number keys' }).getByRole('button', { name: key, exact: true }).click();
  await page.getByRole('button', { name: 'Go on' }).click();
  await page.getByRole('heading', { level: 1, name: 'Your account' }).waitFor();

  const debug = await context.newCDPSession(page);
  await debug.send('ServiceWorker.enable');
  await debug.send('ServiceWorker.stopAllWorkers');
  await page.reload();
  await page.getByText('the browser has put away the keys').waitFor();
  assert.equal(await page.getByLabel('PIN', { exact: true }).count(), 0);
  await signIn(page, page.url(), 'marit');
  assert.deepEqual(problems, []);
  await close();
});

test('the lock is told half a minute before, and a touch keeps the tablet open', async () => {
  const { page, problems, close } = await openBrowser(await service.profile());
  await signIn(page, service.server.url, 'marit');
  const warning = page.getByRole('alertdialog', { name: 'This tablet locks soon' });
  const ahead = (/** @type {number} */ ms) =>
    page.evaluate((by) => {
      const now = Date.now;
      Date.now = () => now() + by;
    }, ms);
  await ahead(10 * 60_000 - 20_000);
  await warning.waitFor();
  await warning.getByRole('button', { name: 'Stay' }).click();
  await warning.waitFor({ state: 'detached' });
  await ahead(10 * 60_000 + 1_000);
  await page.getByRole('heading', { level: 1, name: 'Sign in' }).waitFor();
  await page.getByText('so the password opens it').waitFor();
  assert.deepEqual(problems, []);
  await close();
});
