/**
 * The offline copy. Each release has a cache of its own, filled whole or not at
 * all; pages are served from it and never mixed with another release. A new
 * release waits until the person asks for it. Records are never touched here; keys are held in memory for whoever set a PIN.
 */
import { isPin } from '../lib/session/pin';
import { answerVault, createPinVault, type VaultAsk } from '../lib/session/pin-vault';

declare const BUILD_ID: string;
declare const BUILD_FILES: readonly string[];

const worker = globalThis as unknown as ServiceWorkerGlobalScope;
const prefix = 'doorsill-';
const cacheName = prefix + BUILD_ID;
const files: ReadonlySet<string> = new Set(BUILD_FILES);

function isHtml(response: Response): boolean {
  return (response.headers.get('Content-Type') ?? '').startsWith('text/html');
}

/** A file of this release, fresh from the server; an error page is refused. */
async function fetchFile(path: string): Promise<readonly [string, Response]> {
  const response = await fetch(new Request(path, { cache: 'reload', credentials: 'same-origin' }));
  if (!response.ok || response.redirected || isHtml(response) !== (path === '/')) {
    throw new Error(`${path} could not be fetched for the offline copy: ${response.status}`);
  }
  return [path, response];
}

async function install(): Promise<void> {
  const fetched = await Promise.all(BUILD_FILES.map(fetchFile));
  const cache = await caches.open(cacheName);
  try {
    await Promise.all(fetched.map(([path, response]) => cache.put(path, response)));
  } catch (error) {
    await caches.delete(cacheName);
    throw error;
  }
}

async function activate(): Promise<void> {
  const names = await caches.keys();
  await Promise.all(names.filter((name) => name.startsWith(prefix) && name !== cacheName).map((name) => caches.delete(name)));
  await worker.clients.claim();
}

async function cached(path: string): Promise<Response | undefined> {
  const cache = await caches.open(cacheName);
  return cache.match(path, { ignoreVary: true });
}

/** The page of this release; the network's only if the browser lost the copy. */
async function page(request: Request): Promise<Response> {
  return (await cached('/')) ?? fetch(request);
}

/** A file of this release, or the network's, but never a page in its place. */
async function asset(request: Request, path: string): Promise<Response> {
  const here = files.has(path) ? await cached(path) : undefined;
  if (here !== undefined) return here;
  const response = await fetch(request);
  return isHtml(response) ? new Response('There is no such file in this version.', { status: 404 }) : response;
}

/** What always goes to the server. */
function isOnline(path: string): boolean {
  return path.startsWith('/api/') || path === '/healthz' || path === '/metrics' || path === '/sw.js';
}

worker.addEventListener('install', (event) => {
  event.waitUntil(install());
});
worker.addEventListener('activate', (event) => {
  event.waitUntil(activate());
});

worker.addEventListener('fetch', (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== 'GET' || url.origin !== worker.location.origin || isOnline(url.pathname)) return;
  event.respondWith(request.mode === 'navigate' ? page(request) : asset(request, url.pathname));
});

/** Keys that a PIN brings back after a reload; with the worker they are gone. */
const vault = createPinVault<unknown>(() => Date.now(), isPin);

worker.addEventListener('message', (event) => {
  if (event.data === 'SKIP_WAITING') event.waitUntil(worker.skipWaiting());
  const ask = event.data as VaultAsk<unknown> | string | null;
  if (typeof ask !== 'object' || ask === null || !('vault' in ask)) return;
  event.waitUntil(
    answerVault(vault, ask).then((reply) => {
      if (reply !== undefined) event.ports[0]?.postMessage(reply);
    }),
  );
});
