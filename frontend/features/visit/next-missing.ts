import { missingLink } from '../../ui/visit/links';
import { sentenceOf } from '../../ui/words';
import type { VisitView } from '../../lib';

/** A thing that is missing, and where it is filled in. */
export interface NextMissing {
  readonly href: string;
  readonly what: string;
}

const pathOf = (url: string): string => url.split('?')[0] ?? '';

/**
 * What to fill in next: first what else is missing on the screen that is shown,
 * then the thing after it in the order of the list, and round again at its end;
 * undefined when nothing is missing.
 */
export function nextMissing(view: VisitView, url: string): NextMissing | undefined {
  const rows = (view.result?.missing ?? []).map((missing) => ({ missing, href: missingLink(view.visit.id, view.checklist, missing) }));
  const here = rows.findIndex((row) => row.href === url);
  const others = [...rows.slice(here + 1), ...rows.slice(0, here + 1)].filter((row) => row.href !== url);
  const next = others.find((row) => pathOf(row.href) === pathOf(url)) ?? others[0];
  return next && { href: next.href, what: sentenceOf(next.missing.message).split(': ')[0] ?? '' };
}
