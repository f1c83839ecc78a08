import { signal } from '@preact/signals';
import { onPersonLeft } from '../../lib';
import type { AnswerGiven } from '../../lib/model.gen';

/** An answer that can be taken back: what stood before it. */
export interface UndoStep {
  readonly visit: string;
  readonly item: string;
  readonly title: string;
  readonly before: AnswerGiven;
}

const longest = 10;

/** The last ten answers of this person on this page, newest last. */
export const undoSteps = signal<readonly UndoStep[]>([]);
onPersonLeft(() => {
  undoSteps.value = [];
});

export function remember(steps: readonly UndoStep[], step: UndoStep): readonly UndoStep[] {
  return [...steps, step].slice(-longest);
}

/** The newest step of a visit, with the list that is left without it. */
export function takeBack(
  steps: readonly UndoStep[],
  visit: string,
): { readonly step: UndoStep | undefined; readonly rest: readonly UndoStep[] } {
  const at = steps.findLastIndex((step) => step.visit === visit);
  return { step: steps[at], rest: steps.filter((_, index) => index !== at) };
}
