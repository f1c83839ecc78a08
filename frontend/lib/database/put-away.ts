/**
 * A page that is put away for the back button keeps its transactions open in
 * WebKit, and a page that opens the app anew would wait for them until the first
 * one is gone. So they are ended when it is put away, and what it wants to do then
 * waits until it is shown again.
 */
export interface PutAway {
  /** Resolves at once while the page is in use, else when it is shown again. */
  readonly shown: () => Promise<void>;
  /** Has a transaction ended when the page is put away. */
  readonly watch: (tx: { readonly abort: () => void }) => Watched;
}

export interface Watched {
  /** The transaction has ended by itself. */
  readonly over: () => void;
  /** It was ended because the page was put away. */
  readonly ended: () => boolean;
}

export function createPutAway(page: Pick<EventTarget, 'addEventListener'> | undefined): PutAway {
  const running = new Set<() => void>();
  let away: { readonly shown: Promise<void>; readonly show: () => void } | null = null;
  page?.addEventListener('pagehide', (event) => {
    if (!(event as PageTransitionEvent).persisted) return;
    let show = (): void => undefined;
    const shown = new Promise<void>((resolve) => {
      show = resolve;
    });
    away ??= { shown, show };
    for (const end of running) end();
  });
  page?.addEventListener('pageshow', () => {
    away?.show();
    away = null;
  });
  return {
    shown: () => away?.shown ?? Promise.resolve(),
    watch: (tx) => {
      let ended = false;
      const end = (): void => {
        try {
          tx.abort();
          ended = true;
        } catch {
          // It has just ended by itself.
        }
      };
      running.add(end);
      return { over: () => running.delete(end), ended: () => ended };
    },
  };
}
