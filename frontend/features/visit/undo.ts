import { signal } from '@preact/signals';
import { answerWords, levelChoices } from '../../ui/answer';
import { tellKept } from '../../ui/toast';
import { findItem, links } from '../../ui/visit/links';
import { onPersonLeft, openVisit, type Definition, type Item } from '../../lib';
import type { AnswerGiven } from '../../lib/model.gen';
import { isOpen, writeVisit } from '../../lib/visit-writer';

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

/** Takes one answer back. That is a new entry; nothing is erased. */
async function takeBack(step: UndoStep): Promise<void> {
  const view = openVisit(step.visit).peek();
  if (view === null || !isOpen(view.visit)) throw new Error('The visit is not open any more.');
  await writeVisit(view.visit, 'answer-given', step.before);
  // Without this step alone: an answer may have been given meanwhile.
  undoSteps.value = undoSteps.value.filter((one) => one !== step);
  tellAnswer(view.checklist, step, step.before, 'Taken back');
}

/** An answer in as few words as say it: the name of its level, where it has one that is more than a digit. */
function shortWords(item: Item, checklist: Definition, answer: AnswerGiven): string {
  const label = answer.state === 'answered' ? levelChoices(item, checklist).find((one) => one.value === answer.level)?.label : undefined;
  return label !== undefined && label.length > 3 ? label : answerWords(item, checklist, answer);
}

/**
 * Tells at the thumb what an item's answer is now, with the way to take back the
 * last answers one by one, up to ten.
 */
export function tellAnswer(checklist: Definition, about: UndoStep, answer: AnswerGiven, how?: string): void {
  const item = findItem(checklist, about.item)?.item;
  const last = newestOf(undoSteps.value, about.visit);
  tellKept({
    how,
    what: about.title,
    as: item === undefined ? undefined : shortWords(item, checklist, answer),
    // Elsewhere, something else was kept last: the way back would be taken for that.
    within: links.part(about.visit, ''),
    ...(last === undefined ? {} : { undo: () => takeBack(last), undoes: last.title }),
  });
}
