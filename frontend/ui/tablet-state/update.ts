/**
 * New versions. The browser fetches one in the background; it waits until the
 * person asks for it, and the page that asked reloads once it has taken over.
 * Another tab that may have something half typed is never reloaded by that.
 */
import { signal, type Signal } from '@preact/signals';
import { scriptUrl } from '../../lib/workers';

/** `waiting`: a new version is here; `taken`: another tab has let it take over. */
export type UpdateState = 'none' | 'waiting' | 'taken';

/** Whether the app itself is on this tablet, so that it starts without a network. */
export type OfflineCopy = 'unknown' | 'here' | 'none';

export const updateState: Signal<UpdateState> = signal('none');
export const offlineCopy: Signal<OfflineCopy> = signal('unknown');

const LOOK_EVERY_MS = 60 * 60_000;
const ASK_EVERY_MS = 2000;

/** Screens on which nothing can be half entered. */
const quiet: ReadonlySet<string> = new Set(['/', '/sync', '/caseload', '/about', '/sign-in']);
export const isQuiet = (path: string): boolean => quiet.has(path);

let waiting: ServiceWorker | null = null;

/** Whether the person has asked for the new version, and it has not taken over yet. */
export const updating: Signal<boolean> = signal(false);

export function keepUpToDate(): void {
  const workers = (navigator as { readonly serviceWorker?: ServiceWorkerContainer }).serviceWorker;
  if (workers === undefined) {
    offlineCopy.value = 'none';
    return;
  }
  watchTakeover(workers);
  void workers.ready.then(() => {
    offlineCopy.value = 'here';
  });
  workers.register(scriptUrl('/sw.js'), { updateViaCache: 'none' }).then(watch, () => {
    // A network's own page in the place of the script leaves the copy that is here as it is.
    void workers.getRegistration().then((had) => {
      if (had?.active == null) offlineCopy.value = 'none';
    });
  });
}

/** The first worker takes over a page that had none: no reason to reload. */
function watchTakeover(workers: ServiceWorkerContainer): void {
  let had = workers.controller !== null;
  let reloading = false;
  workers.addEventListener('controllerchange', () => {
    // The offline copy was taken away, as at a withdrawal: what the page says of that stays.
    if (workers.controller === null) return;
    if (had && !reloading) {
      reloading = updating.value || isQuiet(location.pathname);
      if (reloading) location.reload();
      else updateState.value = 'taken';
    }
    had = true;
  });
}

function watch(registration: ServiceWorkerRegistration): void {
  const note = () => {
    waiting = navigator.serviceWorker.controller === null ? null : registration.waiting;
    if (updateState.value !== 'taken') updateState.value = waiting === null ? 'none' : 'waiting';
  };
  note();
  registration.addEventListener('updatefound', () => {
    registration.installing?.addEventListener('statechange', note);
  });
  // An installed app on a tablet does not look for new versions by itself.
  const look = () => {
    registration.update().catch(() => undefined);
  };
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible') look();
  });
  window.addEventListener('pageshow', look);
  setInterval(look, LOOK_EVERY_MS);
}

/**
 * Lets the waiting version take over; the page reloads. A browser puts that off while the worker of
 * before is busy, and may look again only much later: asked again, it looks at once.
 */
export function takeUpdate(): void {
  if (updating.value) return;
  updating.value = true;
  const ask = () => waiting?.postMessage('SKIP_WAITING');
  ask();
  setInterval(ask, ASK_EVERY_MS);
}
