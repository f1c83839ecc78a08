import { render } from 'preact';
import { watchAddress } from '../ui/address';
import { watchBidiControls } from '../ui/bidi-controls';
import { applyDisplay } from '../ui/display';
import { session, unlockWith, wakeSync, warmEngine, warmUnlock } from '../lib';
import { App } from './app';
import { watchIdle } from './idle';
import { keepDrafts } from './keep-drafts';
import { loadLazy, loadUnlock } from './lazy';

/** Work for after the first paint: nothing on the first screen waits for it. */
function afterPaint(work: () => void): void {
  const idle = (globalThis as { readonly requestIdleCallback?: (run: () => void) => void }).requestIdleCallback;
  requestAnimationFrame(() => {
    setTimeout(() => {
      if (idle) idle(work);
      else work();
    }, 0);
  });
}

function watchNetwork(): void {
  window.addEventListener('online', wakeSync);
  window.addEventListener('pageshow', wakeSync);
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible') wakeSync();
  });
}

const root = document.getElementById('app');
if (root === null) throw new Error('index.html has no element with the id "app"');
applyDisplay();
watchBidiControls();
unlockWith(loadUnlock);
watchAddress();
root.replaceChildren();
render(<App />, root);

/** A lock takes everything off the page at once, whatever a screen may still be waiting for. */
function blankOnLock(page: HTMLElement): void {
  let open = false;
  session.subscribe((one) => {
    if (open && one === null) {
      render(null, page);
      page.replaceChildren();
      render(<App />, page);
    }
    open = one !== null;
  });
}
blankOnLock(root);
keepDrafts();

afterPaint(() => {
  warmUnlock();
  watchNetwork();
  watchIdle();
  // Without it the app works on; the next start tries again.
  loadLazy().catch(() => undefined);
  const stop = session.subscribe((one) => {
    if (one === null) return;
    warmEngine();
    queueMicrotask(() => {
      stop();
    });
  });
});
