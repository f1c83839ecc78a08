// @ts-check
// What the tests of faults share: a faulty network between browser and server,
// a browser that is killed, and a hand in the page's own database.
import { readFileSync, readdirSync } from 'node:fs';
import { createServer, request } from 'node:http';
import { pipeline } from 'node:stream';
import { openVisit, signIn } from './actions.mjs';
import { openBrowser, useServer } from './setup.mjs';

/** @typedef {import('playwright-core').Page} Page */

/**
 * What becomes of a request: it passes, perhaps late or with its answer
 * changed; it is answered here; or the connection is cut, before or after the
 * server has had it.
 * @typedef {{ kind: 'pass', change?: (body: string) => string }
 *   | { kind: 'answer', status: number, type: string, body: string }
 *   | { kind: 'cut' } | { kind: 'cut-after' }} Fate
 * @typedef {{ method: string, path: string, headers: import('node:http').IncomingHttpHeaders }} Asked
 * @typedef {(asked: Asked) => Fate | Promise<Fate>} Rule
 */

/** @type {Rule} */
export const pass = () => ({ kind: 'pass' });

/** A network's own sign-in page in the place of everything. @type {Rule} */
export const portal = () => ({
  kind: 'answer',
  status: 200,
  type: 'text/html; charset=utf-8',
  body: '<!doctype html><title>Guest network</title><p>Sign in to the guest network.</p>',
});

/** @param {number} status @param {string} error @returns {Fate} */
export const refuse = (status, error) => ({
  kind: 'answer',
  status,
  type: 'application/json',
  body: JSON.stringify({ error, message: '' }),
});

/** Whether a request is a push or a pull. @param {string} path */
const isExchange = (path) => /^\/api\/v1\/(events$|teams\/[^/]+\/events)/.test(path);

/** Counts what happens at proxies, so that a history says what came before what. */
let moments = 0;

/** @param {import('node:http').IncomingMessage} message */
async function bodyOf(message) {
  const parts = [];
  for await (const part of message) parts.push(part);
  return Buffer.concat(parts).toString();
}

/**
 * Stands between the browser and the server; `proxy.rule` decides on each request.
 * @param {string} target
 */
export async function startProxy(target) {
  const { hostname, port } = new URL(target);
  const proxy = {
    /** @type {Rule} */ rule: pass,
    /** @type {Asked[]} */ seen: [],
    /** What clients pushed and pulled and were told, for `go run ./cmd/history`; kept where a test makes it a list. @type {object[] | undefined} */
    history: undefined,
    url: '',
    stop: () =>
      new Promise((resolve) => {
        server.close(resolve);
        server.closeAllConnections();
      }),
  };
  const server = createServer(async (from, to) => {
    const asked = { method: from.method ?? '', path: from.url ?? '', headers: from.headers };
    proxy.seen.push(asked);
    const told = proxy.history && isExchange(asked.path) ? proxy.history : undefined;
    const begin = ++moments;
    const fate = await proxy.rule(asked);
    if (fate.kind === 'cut') return void from.socket.destroy();
    if (fate.kind === 'answer') return void to.writeHead(fate.status, { 'Content-Type': fate.type }).end(fate.body);
    const headers = { ...from.headers };
    const sent = /** @type {Buffer[]} */ ([]);
    if (told) from.on('data', (/** @type {Buffer} */ part) => sent.push(part));
    if (told || (fate.kind === 'pass' && fate.change)) {
      headers['accept-encoding'] = 'identity';
      delete headers['if-none-match'];
    }
    const onward = request({ hostname, port, method: asked.method, path: asked.path, headers }, async (answer) => {
      const note = (/** @type {object} */ answered) => {
        const client = from.headers['x-client'] ?? 'tablet';
        const body = Buffer.concat(sent).toString();
        told?.push({ client, begin, end: ++moments, method: asked.method, path: asked.path, body, ...answered });
      };
      if (fate.kind === 'cut-after') {
        note({});
        return void answer.resume().on('end', () => from.socket.destroy());
      }
      if (told) {
        const whole = await bodyOf(answer).catch(() => undefined);
        if (whole === undefined) return void from.destroy();
        note({ status: answer.statusCode, type: answer.headers['content-type'], sum: answer.headers['doorsill-sum'], answer: whole });
        return void to.writeHead(answer.statusCode ?? 502, answer.headers).end(whole);
      }
      if (fate.kind !== 'pass' || !fate.change) {
        to.writeHead(answer.statusCode ?? 502, answer.headers);
        // An answer that a killed server breaks off is broken off here too, and not waited for.
        return void pipeline(answer, to, () => undefined);
      }
      const { change } = fate;
      const whole = await bodyOf(answer).catch(() => undefined);
      if (whole === undefined) return void from.destroy();
      const { 'content-length': _, etag: __, 'doorsill-sum': ___, ...rest } = answer.headers;
      to.writeHead(answer.statusCode ?? 502, rest).end(change(whole));
    });
    onward.on('error', () => from.destroy());
    to.on('close', () => {
      if (!to.writableFinished) onward.destroy();
    });
    from.pipe(onward);
  });
  await new Promise((resolve) => {
    server.listen(0, '127.0.0.1', () => resolve(undefined));
  });
  const address = server.address();
  proxy.url = `http://127.0.0.1:${typeof address === 'object' && address ? address.port : 0}`;
  return proxy;
}

/** @typedef {Awaited<ReturnType<typeof startProxy>>} Proxy */

/** The process of the browser that runs on a profile folder. @param {string} profile */
function browserOn(profile) {
  for (const pid of readdirSync('/proc').filter((name) => /^\d+$/.test(name))) {
    try {
      const line = readFileSync(`/proc/${pid}/cmdline`, 'utf8').split('\0');
      if (line.includes(`--user-data-dir=${profile}`) && !line.some((one) => one.startsWith('--type='))) return Number(pid);
    } catch {
      // It has ended since the folder was read.
    }
  }
  throw new Error(`no browser runs on ${profile}`);
}

/**
 * Kills the browser as a flat battery does, and waits until it is gone.
 * @param {string} profile @param {import('playwright-core').BrowserContext} context
 */
export async function killBrowser(profile, context) {
  const gone = new Promise((resolve) => {
    context.once('close', resolve);
  });
  process.kill(browserOn(profile), 'SIGKILL');
  await gone;
}

/** Id and rows of the person who is signed in. @param {Page} page @param {string} url @returns {Promise<string>} */
export async function personId(page, url) {
  const answer = await page.request.get(`${url}/api/v1/session`);
  return (await answer.json()).person.id;
}

/** Another build of the same app: only its name differs. @type {Rule} */
export const newerBuild = ({ path }) =>
  path === '/sw.js'
    ? { kind: 'pass', change: (text) => `${text}\n/* a newer release */`.replace(/"[0-9a-f]{8,}"/, '"0123456789abcdef"') }
    : { kind: 'pass' };

/**
 * Waits until something is so.
 * @param {() => boolean | Promise<boolean>} isSo @param {string} otherwise what went wrong where it does not come to be so
 */
async function until(isSo, otherwise) {
  const end = Date.now() + 40_000;
  while (!(await isSo())) {
    if (Date.now() > end) throw new Error(otherwise);
    await new Promise((resolve) => {
      setTimeout(resolve, 20);
    });
  }
}

/** Waits until the proxy has seen a request. @param {Proxy} proxy @param {(asked: Asked) => boolean} want @param {number} [since] */
export function untilSeen(proxy, want, since = 0) {
  return until(() => proxy.seen.slice(since).some(want), 'the request that was waited for did not come');
}

/** What the tests of faults work on: an item of a visit that is under way. */
export const client = 'Thistle Mare';
export const part = 'Switches and mounting';
export const item = 'On and off';

/** Id of the visit that is shown. @param {Page} page */
export const visitId = (page) => new URL(page.url()).pathname.split('/')[2] ?? '';

/** A server behind a faulty network, for one test file. */
export function useFaultyNetwork() {
  const begin = async () => {
    here.proxy = await startProxy(here.server.url);
    here.ends.push(() => here.proxy.stop());
  };
  const here = Object.assign(useServer(begin), {
    proxy: /** @type {Proxy} */ (/** @type {unknown} */ (null)),
    /** A folder for a browser whose network is well to begin with. */
    freshProfile: () => {
      here.proxy.rule = pass;
      return here.profile();
    },
    /** A tablet that is new. */
    tablet: async () => openBrowser(await here.freshProfile()),
    /** Signs in and opens the visit on its map. @param {Page} page */
    atVisit: async (page) => {
      await signIn(page, here.proxy.url, 'marit');
      await page.getByRole('link', { name: client }).waitFor();
      await openVisit(page, client);
    },
    /**
     * Waits until one of the person's tablets has told the server of this many entries that it holds.
     * @param {Page} page @param {number} waiting
     */
    untilReported: async (page, waiting) => {
      const person = await personId(page, here.server.url);
      const path = `${here.server.url}/api/v1/people/${person}/tablets`;
      await until(async () => {
        const { tablets } = await (await page.request.get(path)).json();
        return tablets.some((/** @type {{ waiting: number }} */ one) => one.waiting === waiting);
      }, `no tablet told the server of ${waiting} entries`);
    },
    /** The visit as the server holds it. @param {Page} page @param {string} visit */
    visitOnServer: async (page, visit) => (await (await page.request.get(`${here.server.url}/api/v1/visits/${visit}`)).json()).visit,
    /** The levels that the server holds for the item. @param {Page} page @param {string} visit @returns {Promise<string[]>} */
    levelsOnServer: async (page, visit, id = 'mnt-power') => {
      const { answers } = await here.visitOnServer(page, visit);
      const answer = answers.find((/** @type {{ item: string }} */ one) => one.item === id);
      return answer?.heads.map((/** @type {{ level: string }} */ head) => head.level) ?? [];
    },
  });
  return here;
}
