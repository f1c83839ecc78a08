// @ts-check
// A browser by plain W3C WebDriver over fetch: for engines that Playwright's
// build does not cover. Only what the offline story needs.
import { spawn } from 'node:child_process';
import { createServer } from 'node:net';
import { join } from 'node:path';

const ELEMENT = 'element-6066-11e4-a52e-4f735466cecf';

/** A port that is free now. @returns {Promise<number>} */
const freePort = () =>
  new Promise((resolve) => {
    const server = createServer().listen(0, '127.0.0.1', () => {
      const address = server.address();
      server.close(() => resolve(typeof address === 'object' && address ? address.port : 0));
    });
  });

/**
 * Starts WebKitGTK's driver under a virtual screen.
 * @param {string} home folder that holds the browser's data from one start to the next
 */
export async function startDriver(home) {
  const port = await freePort();
  const child = spawn('xvfb-run', ['-a', 'WebKitWebDriver', `--port=${port}`, '--host=127.0.0.1'], {
    stdio: 'ignore',
    detached: true,
    env: {
      ...process.env,
      HOME: home,
      XDG_DATA_HOME: `${home}/data`,
      XDG_CACHE_HOME: `${home}/cache`,
      XDG_CONFIG_HOME: `${home}/config`,
      WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS: '1',
      WEBKIT_DISABLE_COMPOSITING_MODE: '1',
      LIBGL_ALWAYS_SOFTWARE: '1',
    },
  });
  const base = `http://127.0.0.1:${port}`;
  await until('the driver answers', async () => (await fetch(`${base}/status`).catch(() => null))?.ok === true);
  return {
    base,
    stop: (/** @type {NodeJS.Signals} */ signal = 'SIGTERM') =>
      new Promise((resolve) => {
        child.once('exit', () => resolve(undefined));
        // The group that was started here: the virtual screen, the driver and its browser.
        process.kill(-(child.pid ?? 0), signal);
      }),
  };
}

/** Asks again until it holds. @param {string} what @param {() => Promise<unknown>} holds @param {number} [ms] */
export async function until(what, holds, ms = 30_000) {
  const end = Date.now() + ms;
  for (;;) {
    if (await holds().catch(() => false)) return;
    if (Date.now() > end) throw new Error(`waited in vain: ${what}`);
    await new Promise((resolve) => {
      setTimeout(resolve, 50);
    });
  }
}

/** The driver's own browser, which is private: it keeps nothing. */
const miniBrowser = { binary: '/usr/lib/x86_64-linux-gnu/webkit2gtk-4.1/MiniBrowser', args: ['--automation'] };

/** A browser that keeps its profile in a folder. @param {string} folder */
export const keepingBrowser = (folder) => ({ binary: join(import.meta.dirname, 'webkit-browser.py'), args: [folder] });

/** Opens a browser. @param {string} base @param {{ binary: string, args: string[] }} [browser] */
export async function openSession(base, browser = miniBrowser) {
  const ask = async (/** @type {string} */ method, /** @type {string} */ path, /** @type {unknown} */ body) => {
    const answer = await fetch(`${base}${path}`, { method, ...(body === undefined ? {} : { body: JSON.stringify(body) }) });
    const { value } = await answer.json();
    if (!answer.ok) throw new Error(`${method} ${path}: ${value.error}: ${value.message}`);
    return value;
  };
  const made = await ask('POST', '/session', {
    capabilities: {
      alwaysMatch: {
        'webkitgtk:browserOptions': browser,
      },
    },
  });
  const at = `/session/${made.sessionId}`;
  const run = (/** @type {string} */ script, /** @type {unknown[]} */ ...args) => ask('POST', `${at}/execute/sync`, { script, args });
  const find = async (/** @type {string} */ xpath) => (await ask('POST', `${at}/element`, { using: 'xpath', value: xpath }))[ELEMENT];
  const see = (/** @type {string} */ xpath, /** @type {number} */ ms = 30_000) =>
    until(xpath, () => find(xpath), ms).catch(async (error) => {
      throw new Error(`${error.message}; the page says: ${await run('return document.body.innerText')}`);
    });
  return {
    version: `${made.capabilities.browserName} ${made.capabilities.browserVersion}`,
    go: (/** @type {string} */ url) => ask('POST', `${at}/url`, { url }),
    run,
    see,
    /** Touches what the XPath names, once it is there and nothing covers it. @param {string} xpath */
    touch: async (xpath) => {
      await see(xpath);
      await until(`touch ${xpath}`, async () => {
        const id = await find(xpath);
        await run('arguments[0].scrollIntoView({ block: "center" })', { [ELEMENT]: id });
        await ask('POST', `${at}/element/${id}/click`, {});
        return true;
      });
    },
    /** @param {string} xpath @param {string} text */
    type: async (xpath, text) => {
      await see(xpath);
      await until(`type into ${xpath}`, async () => {
        const id = await find(xpath);
        await run('arguments[0].scrollIntoView({ block: "center" })', { [ELEMENT]: id });
        await ask('POST', `${at}/element/${id}/clear`, {});
        await ask('POST', `${at}/element/${id}/value`, { text });
        return true;
      });
    },
    text: async (/** @type {string} */ xpath) => String(await ask('GET', `${at}/element/${await find(xpath)}/text`, undefined)),
    path: async () => new URL(String(await ask('GET', `${at}/url`, undefined))).pathname,
    close: () => ask('DELETE', at, undefined),
  };
}
