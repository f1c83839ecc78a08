/**
 * What the screen that is shown puts into the head of the page: the way back and
 * whose records they are. The head itself stays when screens change.
 */
import { signal } from '@preact/signals';

export interface PageHead {
  readonly title: string;
  readonly back?: { readonly href: string; readonly label: string } | undefined;
  /** Whose records are shown, by name or number. */
  readonly over?: string | undefined;
  /** Where that leads to. */
  readonly overHref?: string | undefined;
}

export const pageHead = signal<PageHead>({ title: '' });
