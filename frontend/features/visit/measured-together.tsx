import { Button, SavedLine, useSave } from '../../ui';
import { bare, headsOf } from '../../ui/answer';
import { findItem } from '../../ui/visit/links';
import { sentenceOf } from '../../ui/words';
import type { Item, Section, VisitView } from '../../lib';
import type { MeasuredAnswer } from '../../lib/model.gen';
import { isOpen, writeVisit } from '../../lib/visit-writer';
import { measuredAnswer, useMeasuredList } from './elsewhere';
import { standingOf } from './progress';
import { remember, tellAnswer, undoSteps } from './undo';

/** An open item and what was measured for it. */
export interface Offered {
  readonly item: Item;
  readonly found: MeasuredAnswer;
}

/** Open items of the whole checklist that were measured elsewhere, where the part has one of them and there is more than one. */
export function offeredTogether(view: VisitView, section: Section, found: readonly MeasuredAnswer[]): readonly Offered[] {
  const open = found.flatMap((one): readonly Offered[] => {
    const item = findItem(view.checklist, one.item)?.item;
    return item && standingOf(item, view.visit, view.result) === 'not-tested' ? [{ item, found: one }] : [];
  });
  const here = open.some(({ item }) => section.items.includes(item));
  return here && open.length > 1 ? open : [];
}

/** What was measured in the visit and is still to be answered, each with its value, to be taken with one touch. */
export function MeasuredTogether(props: { readonly view: VisitView; readonly section: Section }) {
  const { view, section } = props;
  const { visit } = view;
  const saver = useSave();
  const offered = offeredTogether(view, section, useMeasuredList(view, isOpen(visit)));
  if (offered.length === 0) return null;
  const take = async () => {
    if (saver.busy()) return;
    await saver.save(`${offered.length} answers`, async () => {
      for (const { item, found } of offered) {
        const before = bare(headsOf(visit, item.id).at(-1), item.id);
        const answer = measuredAnswer(found, before);
        await writeVisit(visit, 'answer-given', answer);
        const step = { visit: visit.id, item: item.id, title: item.title, before };
        undoSteps.value = remember(undoSteps.value, step);
        tellAnswer(view.checklist, step, answer);
      }
    });
  };
  return (
    <section class="measured-together" aria-label="Measured in this visit">
      <ul class="plain-list">
        {offered.map(({ item, found }) => (
          <li key={item.id}>
            <strong>{item.title}:</strong> {sentenceOf(found.message)}
          </li>
        ))}
      </ul>
      <Button kind="main" onPress={() => void take()}>
        Take all {offered.length} that were measured
      </Button>
      {saver.state.kind === 'failed' ? <SavedLine state={saver.state} /> : null}
    </section>
  );
}
