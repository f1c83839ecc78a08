// @ts-check
// Every screen there is, and how to get to it: for looking and for axe.
import { follow, pack, signIn, tile } from './actions.mjs';
import { signInThere } from './organisation.mjs';
import { troublePlaces } from './screen-list-trouble.mjs';

/** @typedef {import('playwright-core').Page} Page */
/** @typedef {{ name: string, go: (page: Page) => Promise<void> }} Place */

/** @param {string} to a path within the app, followed without loading the page anew */
const path = (to) => async (/** @type {Page} */ page) => {
  await page.evaluate((url) => {
    history.pushState(null, '', url);
    dispatchEvent(new PopStateEvent('popstate'));
  }, to);
  await page.waitForFunction((url) => location.pathname + location.search === url, to);
};

/**
 * Goes to a screen, and waits for its heading and for what it shows below.
 * @param {string} heading @param {(page: Page) => Promise<void>} go @param {string} [content] a selector of something that stands there in the end
 */
const until =
  (heading, go, content = 'main h2') =>
  async (/** @type {Page} */ page) => {
    await go(page);
    await page.getByRole('heading', { level: 1, name: heading, exact: true }).waitFor();
    await page.locator(content).first().waitFor();
    await page.waitForFunction(
      () => !/Opening|Fetching|Loading|being worked out|Not worked out|Working out/.test(document.querySelector('main')?.innerText ?? ''),
    );
  };

/** Screens of a visit: name, address, heading, and something of what comes below it. */
const visitScreens = /** @type {const} */ ([
  ['part-ctl', 'part/ctl', 'Control access at the chosen site', '.item-card'],
  ['part-saf', 'part/saf', 'Safety and judgement', '.item-card'],
  ['part-per', 'part/per', 'Vision, perception and communication', '.item-card'],
  ['part-ind', 'part/ind', 'Driving trial: indoors and doorways', '.item-card'],
  ['part-hom', 'part/hom', 'Home access', '.item-card'],
  ['measure-force', 'measure/force', 'Force', '.pad-done'],
  ['measure-travel', 'measure/travel', 'Travel', '.pad-done'],
  ['measure-release', 'measure/release', 'Letting go', '.giant-button'],
  ['measure-hold', 'measure/hold', 'Holding', '.giant-button'],
  ['measure-unintended', 'measure/unintended', 'Force not meant', '.pad-done'],
  ['measure-switch', 'measure/switch', 'Switch force', '.pad-done'],
  ['trial', 'trial', 'Driving trial', '.tallies'],
  ['setup', 'setup', 'Control and place', 'main form'],
  ['needs', 'needs', 'Needs', 'main h2'],
  ['controls', 'controls', 'Controls', 'main h2'],
  ['strain', 'strain', 'Strain', 'main h2'],
  ['home', 'home', 'Home', 'main h2'],
  ['settings', 'settings', 'Settings of the chair', 'main h2'],
  ['mount', 'mount', 'Mounting', 'main form'],
  ['notes', 'notes', 'Visit notes', 'main textarea'],
  ['missing', 'missing', 'What is missing', 'main h2'],
  ['level', 'level', 'Level', '.level-word'],
  ['sign', 'sign', 'Sign', 'main button[type=submit]'],
]);

/**
 * The screens of a clinician, in an order that works.
 * @param {string} url
 * @returns {Place[]}
 */
export function clinicianPlaces(url) {
  const inVisit = (/** @type {string} */ rest) => async (/** @type {Page} */ page) => path(`${await visitPath(page)}${rest}`)(page);
  return [
    {
      name: 'sign-in',
      go: async (page) => {
        await page.goto(url);
        await page.getByRole('heading', { level: 1, name: 'Sign in' }).waitFor();
      },
    },
    {
      name: 'today',
      go: async (page) => {
        await signIn(page, url, 'marit');
        await page.getByRole('link', { name: 'Heath Ellery' }).waitFor();
      },
    },
    { name: 'client-new', go: until('New client', path('/clients/new'), 'main button[type=submit]') },
    {
      name: 'over-time',
      go: until('Over time', async (page) => {
        await path('/')(page);
        await follow(page, 'Alder Finchley');
        await follow(page, /^Over time/);
      }),
    },
    {
      name: 'client',
      go: async (page) => {
        await path('/')(page);
        await follow(page, 'Heath Ellery');
        await page.getByRole('heading', { level: 1, name: 'Heath Ellery' }).waitFor();
      },
    },
    {
      name: 'visit-start',
      go: until(
        'Start a visit',
        async (page) => {
          await path(`${new URL(page.url()).pathname}/visit`)(page);
        },
        'main button.button-main',
      ),
    },
    {
      name: 'visit-map',
      go: until(
        'Visit map',
        async (page) => {
          await page.goBack();
          await follow(page, /visit map|go on|open visit/i);
        },
        '#measuring',
      ),
    },
    { name: 'part-positioning', go: until('Positioning', (page) => tile(page, 'Positioning'), '.item-card') },
    ...visitScreens.map(([name, rest, heading, content]) => ({ name, go: until(heading, inVisit(`/${rest}`), content) })),
    { name: 'sync', go: until('This tablet', path('/sync')) },
    { name: 'about', go: until('About and cautions', path('/about'), 'main table') },
    { name: 'account', go: until('Your account', path('/people')) },
    {
      name: 'account-sessions',
      go: async (page) => {
        await page.getByText('Where you are signed in').click();
        await page.getByText('this one', { exact: true }).waitFor();
      },
    },
    ...troublePlaces(url),
  ];
}

/** @param {Page} page */
async function visitPath(page) {
  const found = /^\/visits\/[^/]+/.exec(new URL(page.url()).pathname);
  if (!found) throw new Error(`${page.url()} is not within a visit`);
  return found[0];
}

/**
 * The screens of a lead and of an administrator.
 * @param {string} url
 * @returns {Place[]}
 */
export function officePlaces(url) {
  return [
    {
      name: 'today-lead',
      go: async (page) => {
        await signIn(page, url, 'ilse');
        await page.getByText(/\(\d+ clients\)/).waitFor();
      },
    },
    {
      name: 'client-new-lead',
      go: async (page) => {
        await follow(page, 'New client');
        await page.getByText(/\(\d+ clients\)/).waitFor();
      },
    },
    {
      name: 'sync-lead',
      go: async (page) => {
        await path('/sync')(page);
        await page.getByText(/\(\d+ clients\)/).waitFor();
      },
    },
    {
      name: 'caseload',
      go: async (page) => {
        await follow(page, 'Caseload');
        await page.getByRole('link', { name: 'Hazel Orme' }).waitFor();
      },
    },
    {
      name: 'kit',
      go: async (page) => {
        await follow(page, 'Kit');
        await pack(page);
        await page.getByRole('link', { name: 'Blue stick' }).waitFor();
      },
    },
    {
      name: 'kit-control',
      go: async (page) => {
        await follow(page, 'Blue stick');
        await page.getByRole('heading', { level: 1, name: 'Blue stick' }).waitFor();
      },
    },
    {
      name: 'caseload-client',
      go: async (page) => {
        await follow(page, 'Caseload');
        await follow(page, 'Hazel Orme');
        await page.getByRole('heading', { level: 1, name: 'Hazel Orme' }).waitFor();
      },
    },
    {
      name: 'caseload-result',
      go: async (page) => {
        await page.locator('main a[href*="&visit="]').first().click();
        await page
          .getByRole('heading', { name: /forbids driving|Next level|stands before/ })
          .first()
          .waitFor();
      },
    },
    {
      name: 'set-aside',
      go: async (page) => {
        await follow(page, 'Caseload');
        await page.getByRole('tab', { name: /Set aside/ }).click();
        await page.getByText('Nothing is thrown away.').waitFor();
      },
    },
    {
      name: 'tablets',
      go: async (page) => {
        await page.getByRole('tab', { name: /Tablets/ }).click();
        await page.getByText('invented tablet').first().waitFor();
      },
    },
    { name: 'agreement', go: until('Agreement', path('/agreement')) },
    {
      name: 'people',
      go: async (page) => {
        await page.getByRole('button', { name: 'Sign out' }).click();
        await signIn(page, url, 'perrin');
        await page.getByText('Marit Ashgrove').first().waitFor();
        await page.getByText('invented tablet').first().waitFor();
      },
    },
  ];
}

/**
 * The screens of a server with the organisation's own sign-in.
 * @param {string} url
 * @returns {Place[]}
 */
export function organisationPlaces(url) {
  const own = 'nine quiet lamps';
  return [
    {
      name: 'sign-in-provider',
      go: async (page) => {
        await page.goto(url);
        await page.getByRole('button', { name: 'Sign in at your organisation' }).waitFor();
      },
    },
    {
      name: 'sign-in-refused',
      go: async (page) => {
        await page.goto(`${url}/sign-in?refused=no-account`);
        await page.getByText('there is no account for you here').waitFor();
      },
    },
    {
      name: 'tablet-password-new',
      go: async (page) => {
        await signInThere(page, url, 'marit');
        await page.getByLabel('New tablet password').waitFor();
      },
    },
    {
      name: 'tablet-password-wrong',
      go: async (page) => {
        await page.getByLabel('New tablet password').fill('short');
        await page.getByRole('button', { name: 'Open this tablet' }).click();
        await page.getByText('expected at least 15').waitFor();
      },
    },
    {
      name: 'tablet-password',
      go: async (page) => {
        await page.getByLabel('New tablet password').fill(own);
        await page.getByLabel('The same once more').fill(own);
        await page.getByRole('button', { name: 'Open this tablet' }).click();
        await page.getByRole('button', { name: 'I have read this' }).click();
        await page.getByRole('button', { name: 'Lock', exact: true }).click();
        await page.getByText('I do not know the one before').click();
      },
    },
  ];
}
