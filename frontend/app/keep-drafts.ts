import { formDrafts } from '../lib/form-drafts';

/** Writes what is being typed when the page may go: a tablet closes what is not in front. */
export function keepDrafts(): void {
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'hidden') formDrafts.flush();
  });
  window.addEventListener('pagehide', formDrafts.flush);
}
