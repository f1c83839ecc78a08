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

export interface Opening {
  readonly state: 'opening' | 'absent' | 'failed';
  /** A sentence when it failed, else empty. */
  readonly why: string;
}

export interface OpenVisit {
  readonly view: ReadonlySignal<OpenVisitView | null>;
  /** Why there is nothing to show yet. */
  readonly opening: ReadonlySignal<Opening>;
  readonly show: (visit: FoldedVisit, server: StoredResult | undefined) => void;
  /** Something was entered that the result does not know yet. */
  readonly behind: () => void;
  /** Its beginning is not on this tablet. */
  readonly absent: () => void;
  /** What was entered last cannot be shown: that is said, and no result of before stands there as if it were of now. */
  readonly failed: (error: unknown) => void;
  readonly close: () => void;
}

export function createOpenVisit(): OpenVisit {
  const view: Signal<OpenVisitView | null> = signal(null);
  const opening: Signal<Opening> = signal({ state: 'opening', why: '' });
  return {
    view,
    opening,
    show: ({ visit, definition, result, unscored }, server) => {
      // Without its checklist there is nothing to show a visit with.
      if (definition === undefined) return;
      view.value = {
        visit,
        checklist: definition,
        result: server?.result ?? result,
        provisional: server === undefined,
        differs: server?.differs ?? false,
        engineError: server === undefined && unscored !== undefined ? sayBadInput(unscored) : '',
      };
    },
    behind: () => {
      const shown = view.value;
      // Most touches come after one that said so already: nothing is drawn for them.
      if (shown === null || shown.provisional) return;
      view.value = { ...shown, provisional: true, differs: false };
    },
    failed: (error) => {
      const engineError = error instanceof Error ? error.message : String(error);
      if (view.value === null) opening.value = { state: 'failed', why: engineError };
      else
        view.value = {
          ...view.value,
          result: null,
          provisional: true,
          differs: false,
          engineError: `what was entered last is saved and not shown yet. ${engineError}`,
        };
    },
    absent: () => {
      opening.value = { state: 'absent', why: '' };
    },
    close: () => {
      view.value = null;
    },
  };
}
