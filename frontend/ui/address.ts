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

const now = (): string => location.pathname + location.search;
const at = signal({ url: now(), onward: false });
const place = computed((): Place => {
  const { pathname, searchParams } = new URL(at.value.url, location.origin);
  return { ...at.value, path: pathname.replace(/\/+$/, '') || '/', query: Object.fromEntries(searchParams) };
});

/** The present address; a component that asks is drawn again when it changes. */
export function usePlace(): Place {
  return place.value;
}

/** Goes to an address of the app; `replace` takes the present one out of the way back. */
export function goTo(to: string, replace = false): void {
  if (replace) history.replaceState(null, '', to);
  else history.pushState(null, '', to);
  at.value = { url: to, onward: !replace };
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
  addEventListener('popstate', () => {
    at.value = { url: now(), onward: false };
  });
  addEventListener('click', (event: MouseEvent) => {
    const link = linkOf(event);
    if (link === undefined) return;
    event.preventDefault();
    goTo(link.href.replace(location.origin, ''));
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
