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

/** The newest step of a visit. */
export function newestOf(steps: readonly UndoStep[], visit: string): UndoStep | undefined {
  return steps.findLast((step) => step.visit === visit);
}
