/**
 * Where the app is: the page's address, what its parts mean, and how to go on.
 * Links of the page are ordinary ones; a click on one stays inside the app.
 */
import { computed, signal } from '@preact/signals';

export interface Place {
  /** Path and query. */
  readonly url: string;
  /** Without a slash at its end. */
  readonly path: string;
  readonly query: Readonly<Record<string, string>>;
  /** Gone to by a link or a button, not by the way back. */
  readonly onward: boolean;
}

// Unit tests import screens where there is no page.
const now = (): string => (typeof location === 'undefined' ? '/' : location.pathname + location.search);
const at = signal({ url: now(), onward: false });
const place = computed((): Place => {
  const { pathname, searchParams } = new URL(at.value.url, location.origin);
  return { ...at.value, path: pathname.replace(/\/+$/, '') || '/', query: Object.fromEntries(searchParams) };
});

/** The present address; a component that asks is drawn again when it changes. */
export function usePlace(): Place {
  return place.value;
}

/** What is kept beside an address, for the way back to it. */
interface Left {
  readonly top: number;
  /** The link that led away, as it stands on the page. */
  readonly link: string;
}

const isLeft = (state: unknown): state is Left => typeof state === 'object' && state !== null && 'top' in state && 'link' in state;

/** Goes to an address of the app; `replace` takes the present one out of the way back. */
export function goTo(to: string, replace = false, link = ''): void {
  if (replace) history.replaceState(null, '', to);
  else {
    history.replaceState({ top: scrollY, link } satisfies Left, '');
    history.pushState(null, '', to);
  }
  at.value = { url: to, onward: !replace };
}

/** How far down the screen was when somebody left it, once they come back. */
export function leftAt(): number {
  const state: unknown = history.state;
  return isLeft(state) ? state.top : 0;
}

/** The link of a screen by which somebody left it, once they come back. */
export function comeFrom(screen: Element | null | undefined): HTMLElement | undefined {
  const state: unknown = history.state;
  if (!screen || at.value.onward || !isLeft(state) || state.link === '') return undefined;
  return [...screen.querySelectorAll<HTMLElement>('a[href]')].find((one) => one.getAttribute('href') === state.link);
}

/** The link that a plain click on it opens here, if it is one of this app's. */
function linkOf(event: MouseEvent): HTMLAnchorElement | undefined {
  if (event.defaultPrevented || event.button !== 0 || event.ctrlKey || event.metaKey || event.altKey || event.shiftKey) return undefined;
  const link = event.target instanceof Element ? event.target.closest<HTMLAnchorElement>('a[href]') : null;
  if (
    link === null ||
    link.origin !== location.origin ||
    link.target !== '' ||
    link.download !== '' ||
    link.getAttribute('href')?.startsWith('#')
  )
    return undefined;
  return link;
}

export function watchAddress(): void {
  // Screens are drawn by the program: only it knows when there is something to scroll.
  history.scrollRestoration = 'manual';
  addEventListener('popstate', () => {
    at.value = { url: now(), onward: false };
  });
  addEventListener('click', (event: MouseEvent) => {
    const link = linkOf(event);
    if (link === undefined) return;
    event.preventDefault();
    goTo(link.href.replace(location.origin, ''), false, link.getAttribute('href') ?? '');
  });
}

/** A part that was typed wrongly names nothing, and is no reason to fall over. */
function decoded(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}

/** The named parts of a path such as /visits/:id, or null when it is another path. */
export function partsOf(pattern: string, path: string): Readonly<Record<string, string>> | null {
  const [wanted, given] = [pattern.split('/'), path.split('/')];
  if (wanted.length !== given.length) return null;
  const parts: Record<string, string> = {};
  for (const [i, want] of wanted.entries()) {
    const part = given[i] ?? '';
    if (want.startsWith(':') && part !== '') parts[want.slice(1)] = decoded(part);
    else if (want !== part) return null;
  }
  return parts;
}
