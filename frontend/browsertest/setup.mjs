// @ts-check
// What every browser test needs: a real server on a real disk, and a real
// Chromium with a profile of its own that survives being closed.
import { spawn } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { existsSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before } from 'node:test';
import { chromium } from 'playwright-core';

export const binary = join(import.meta.dirname, '..', '..', 'bin', 'doorsill');
const chromiumPath = process.env.CHROMIUM ?? '/usr/bin/chromium';

/** Browsers that a failed test left open; closed when the test file ends. */
const open = /** @type {Set<import('playwright-core').BrowserContext>} */ (new Set());

/** Closes every browser that is still open. */
export const closeAll = () => Promise.all([...open].map((context) => context.close()));

/** The three sizes that every screen is looked at in. */
export const sizes = {
  tablet: { width: 1280, height: 800 },
  upright: { width: 800, height: 1280 },
  phone: { width: 390, height: 844 },
};

/** The password of every invented account, as the demo prints it. */
export const password = 'over the door sill';

/** The app by a name that passkeys accept: they refuse bare addresses. @param {string} url */
export const named = (url) => url.replace('127.0.0.1', 'localhost');

/** @param {string} prefix */
export const scratch = (prefix) => mkdtemp(join(tmpdir(), `doorsill-${prefix}-`));

/**
 * Starts the demo and waits until it says where it listens. A stopped server
 * can be started again on the same address with the same data.
 * @param {{ data?: string, addr?: string, serve?: readonly string[] }} [options] with `serve`, what a real server is told instead of the demo
 */
export async function startServer(options = {}) {
  if (!existsSync(binary)) throw new Error(`${binary} is missing: run "make build" first`);
  const data = options.data ?? (await scratch('data'));
  const child = spawn(
    binary,
    [...(options.serve ? ['serve', ...options.serve] : ['demo']), '--data', data, '--addr', options.addr ?? '127.0.0.1:0'],
    {
      stdio: ['ignore', 'pipe', 'pipe'],
    },
  );
  let log = '';
  const url = await new Promise((resolve, reject) => {
    const look = (/** @type {Buffer} */ chunk) => {
      log += chunk.toString();
      const found = /http:\/\/127\.0\.0\.1:\d+/.exec(log);
      if (found) resolve(found[0]);
    };
    child.stdout.on('data', look);
    child.stderr.on('data', look);
    child.once('exit', (code) => reject(new Error(`the server ended with ${code}:\n${log}`)));
  });
  const stop = (/** @type {NodeJS.Signals} */ signal = 'SIGTERM') =>
    new Promise((resolve) => {
      if (child.exitCode !== null || child.signalCode !== null) return resolve(undefined);
      child.once('exit', () => resolve(undefined));
      child.kill(signal);
    });
  return {
    url: String(url),
    data,
    log: () => log,
    stop,
    /** Starts it again where it was. */
    again: () => startServer({ ...options, data, addr: new URL(String(url)).host }),
  };
}

/**
 * Opens a browser on a profile folder; closing it and opening it again on the
 * same folder is a restart.
 * @param {string} profile
 * @param {{ size?: { width: number, height: number }, args?: string[] }} [options]
 */
export async function openBrowser(profile, options = {}) {
  const context = await chromium.launchPersistentContext(profile, {
    executablePath: chromiumPath,
    headless: true,
    viewport: options.size ?? sizes.tablet,
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
      ...(options.args ?? []),
    ],
  });
  // A machine that does much besides needs more.
  context.setDefaultTimeout(Number(process.env.PATIENCE ?? 45_000));
  const page = context.pages()[0] ?? (await context.newPage());
  const problems = /** @type {string[]} */ ([]);
  page.on('pageerror', (error) => problems.push(`page error: ${error.message}`));
  open.add(context);
  return { context, page, problems, close: () => context.close() };
}

/** @param {string} folder */
export const remove = (folder) => rm(folder, { recursive: true, force: true, maxRetries: 20, retryDelay: 100 });

/** @typedef {Awaited<ReturnType<typeof startServer>>} Server */

/**
 * A server for one test file, and profile folders for its browsers. They begin
 * before its first test and are gone after its last.
 * @param {() => Promise<unknown>} [started] what else begins, once the server runs: hooks of their own would not wait for it
 */
export function useServer(started = () => Promise.resolve()) {
  const folders = /** @type {string[]} */ ([]);
  const here = {
    /** The server as it runs now. */
    server: /** @type {Server} */ (/** @type {unknown} */ (null)),
    /** What must end between the browsers and the server. */
    ends: /** @type {(() => Promise<unknown>)[]} */ ([]),
    /** A new folder for a browser. */
    profile: async () => {
      const folder = await scratch('tablet');
      folders.push(folder);
      return folder;
    },
    /** Starts the stopped server where it was. */
    again: async () => {
      here.server = await here.server.again();
    },
  };
  before(async () => {
    here.server = await startServer();
    await started();
  });
  after(async () => {
    await closeAll();
    for (const end of here.ends) await end();
    await here.server.stop();
    await Promise.all([here.server.data, ...folders].map(remove));
  });
  return here;
}
