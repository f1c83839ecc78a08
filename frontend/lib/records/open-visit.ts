/**
 * One visit on the screen: what the program made of its entries, with the server's
 * result where that is for this very state. Until it has come, the tablet's own
 * result is shown as provisional.
 */
import { signal, type ReadonlySignal, type Signal } from '@preact/signals';
import { sayBadInput } from '../errors';
import type { Folded } from './folds';
import type { StoredResult } from './stored-result';
import type { VisitView } from './types';

type OpenVisitView = Omit<VisitView, 'sync' | 'blind'>;
type FoldedVisit = Extract<Folded, { readonly type: 'visit' }>;

export interface OpenVisit {
  readonly view: ReadonlySignal<OpenVisitView | null>;
  /** Why there is nothing to show yet, or empty. */
  readonly trouble: ReadonlySignal<string>;
  readonly show: (visit: FoldedVisit, server: StoredResult | undefined) => void;
  /** What is shown stays; it is said that it could not be computed again. */
  readonly failed: (error: unknown) => void;
  readonly close: () => void;
}

export function createOpenVisit(): OpenVisit {
  const view: Signal<OpenVisitView | null> = signal(null);
  const trouble = signal('');
  return {
    view,
    trouble,
    show: ({ visit, definition, result, unscored }, server) => {
      // Without its checklist there is nothing to show a visit with.
      if (definition === undefined) return;
      trouble.value = '';
      view.value = {
        visit,
        checklist: definition,
        result: server?.result ?? result,
        provisional: server === undefined,
        differs: server?.differs ?? false,
        engineError: server === undefined && unscored !== undefined ? sayBadInput(unscored) : '',
      };
    },
    failed: (error) => {
      const engineError = error instanceof Error ? error.message : String(error);
      if (view.value === null) trouble.value = engineError;
      else view.value = { ...view.value, engineError };
    },
    close: () => {
      view.value = null;
    },
  };
}
