import { signal } from '@preact/signals';
import { Banner, Button, SavedLine, useSave } from '../../ui';
import { answerWords, bare, headsOf, levelChoices } from '../../ui/answer';
import { links } from '../../ui/visit/links';
import { onPersonLeft, type Definition, type Item, type Section, type VisitView } from '../../lib';
import type { AnswerGiven, Visit } from '../../lib/model.gen';
import { isOpen, writeVisit } from '../../lib/visit-writer';
import type { Ceilings } from './ceilings';
import { standingOf } from './progress';

/** Items of a part that can be answered together: nothing they can say stops anybody or holds the level, and nobody answered them yet. */
export function harmlessOpen(section: Section, ceilings: Ceilings, view: Pick<VisitView, 'visit' | 'result'>): readonly Item[] {
  return section.items.filter((item) => ceilings.get(item.id)?.harmless && standingOf(item, view.visit, view.result) === 'not-tested');
}

/** The best answer of an item, marked as given together with others. */
export function fineAnswer(item: Item, checklist: Definition, visit: Visit): AnswerGiven {
  const [best] = levelChoices(item, checklist);
  const { note } = bare(headsOf(visit, item.id)[0], item.id);
  return { item: item.id, state: 'answered', level: best?.value ?? '', method: 'all-fine', ...(note ? { note } : {}) };
}

/** What was answered together just now, by visit and part: it is listed for a look until it is closed. */
const given = signal<ReadonlyMap<string, readonly string[]>>(new Map());
onPersonLeft(() => {
  given.value = new Map();
});

/** Answers the items of a part that can do no harm, all as fine, with one tap. */
export function AllFine(props: { readonly view: VisitView; readonly section: Section; readonly ceilings: Ceilings }) {
  const { view, section, ceilings } = props;
  const saver = useSave();
  const items = harmlessOpen(section, ceilings, view);
  const key = `${view.visit.id}/${section.code}`;
  if (items.length === 0 || !isOpen(view.visit)) return null;
  const give = async () => {
    if (saver.busy()) return;
    const done = await saver.save(`${items.length} answers`, async () => {
      for (const item of items) await writeVisit(view.visit, 'answer-given', fineAnswer(item, view.checklist, view.visit));
    });
    if (done) given.value = new Map([...given.value, [key, items.map((one) => one.id)]]);
  };
  return (
    <>
      <Button onPress={() => void give()}>All these are fine ({items.length})</Button>
      {saver.state.kind === 'failed' ? <SavedLine state={saver.state} /> : null}
    </>
  );
}

/** What was answered together, each with its answer, for a look, and a way back. */
export function GivenTogether(props: { readonly view: VisitView; readonly section: Section }) {
  const { view, section } = props;
  const key = `${view.visit.id}/${section.code}`;
  const saver = useSave();
  const ids = given.value.get(key) ?? [];
  const items = section.items.filter((item) => ids.includes(item.id) && headsOf(view.visit, item.id)[0]?.method === 'all-fine');
  if (items.length === 0) return null;
  const close = () => {
    given.value = new Map([...given.value].filter(([one]) => one !== key));
  };
  const takeBack = async () => {
    const done = await saver.save('taken back', async () => {
      for (const item of items) await writeVisit(view.visit, 'answer-given', { item: item.id, state: 'not-tested' });
    });
    if (done) close();
  };
  return (
    <Banner tone="done" title={`${items.length} answered as fine: look at each`} live>
      <ul class="given-together">
        {items.map((item) => (
          <li key={item.id}>
            <a href={links.item(view.visit.id, section.code, item.id)}>{item.title}</a>:{' '}
            {answerWords(item, view.checklist, bare(headsOf(view.visit, item.id)[0], item.id))}
          </li>
        ))}
      </ul>
      <div class="actions">
        <Button onPress={close}>All of it is so</Button>
        <Button kind="quiet" onPress={() => void takeBack()}>
          Take all back
        </Button>
      </div>
      {saver.state.kind === 'failed' ? <SavedLine state={saver.state} /> : null}
    </Banner>
  );
}
