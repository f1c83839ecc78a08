/**
 * New versions. The browser fetches one in the background; it waits until the
 * person asks for it, and the page reloads once when it has taken over.
 */
import { signal, type Signal } from '@preact/signals';
import { scriptUrl } from '../store/workers';

/** The new version that waits, or null. */
export const waitingVersion: Signal<ServiceWorker | null> = signal(null);

const LOOK_EVERY_MS = 60 * 60_000;

export function keepUpToDate(): void {
  if (!('serviceWorker' in navigator)) return;
  reloadOnTakeover();
  navigator.serviceWorker.register(scriptUrl('/sw.js'), { updateViaCache: 'none' }).then(watch, (error: unknown) => {
    // Without it the app still works, but not without a network.
    console.warn('the offline copy could not be set up', error);
  });
}

/** The first worker takes over a page that had none: no reason to reload. */
function reloadOnTakeover(): void {
  let had = navigator.serviceWorker.controller !== null;
  let reloading = false;
  navigator.serviceWorker.addEventListener('controllerchange', () => {
    if (had && !reloading) {
      reloading = true;
      location.reload();
    }
    had = true;
  });
}

function watch(registration: ServiceWorkerRegistration): void {
  const note = () => {
    waitingVersion.value = navigator.serviceWorker.controller === null ? null : registration.waiting;
  };
  note();
  registration.addEventListener('updatefound', () => {
    registration.installing?.addEventListener('statechange', note);
  });
  // An installed app on a tablet does not look for new versions by itself.
  const look = () => { registration.update().catch(() => undefined); };
  document.addEventListener('visibilitychange', () => { if (document.visibilityState === 'visible') look(); });
  window.addEventListener('pageshow', look);
  setInterval(look, LOOK_EVERY_MS);
}

/** Lets the waiting version take over; the page reloads. */
export function takeUpdate(): void {
  waitingVersion.value?.postMessage('SKIP_WAITING');
}
