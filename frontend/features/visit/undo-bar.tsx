import { useState } from 'preact/hooks';
import { Button, SavedLine, useSave } from '../../ui';
import { answerWords } from '../../ui/answer';
import { findItem } from '../../ui/visit/links';
import type { VisitView } from '../../lib';
import { isOpen, writeVisit } from '../../lib/visit-writer';
import { newestOf, undoSteps, type UndoStep } from './undo';

/** Takes back the last answers one by one, up to ten. Taking back is a new entry; nothing is erased. */
export function UndoBar(props: { readonly view: VisitView }) {
  const { view } = props;
  const saver = useSave();
  const step = newestOf(undoSteps.value, view.visit.id);
  // What was left to take back after the last time: another list means that something was answered since.
  const [left, setLeft] = useState<readonly UndoStep[] | null>(null);
  const item = step ? findItem(view.checklist, step.item)?.item : undefined;
  const undo = async () => {
    if (!step || saver.busy()) return;
    const done = await saver.save(`${step.title} is as before`, () => writeVisit(view.visit, 'answer-given', step.before));
    if (!done) return;
    // Without this step alone: an answer may have been given meanwhile.
    undoSteps.value = undoSteps.value.filter((one) => one !== step);
    setLeft(undoSteps.value);
  };
  return (
    <div class="undo-bar">
      {step && item && isOpen(view.visit) ? (
        <Button onPress={() => void undo()}>
          Undo: {step.title} back to “{answerWords(item, view.checklist, step.before)}”
        </Button>
      ) : null}
      <SavedLine state={saver.state.kind === 'saved' && undoSteps.value !== left ? { kind: 'idle' } : saver.state} />
    </div>
  );
}
