import { useMemo } from 'preact/hooks';
import { Button, SavedLine, timeWords, useSave } from '../../ui';
import { answerWords } from '../../ui/answer';
import { findItem, links } from '../../ui/visit/links';
import { personName } from '../../ui/words';
import { openVisit, type ClientCard, type Definition, type VisitCard } from '../../lib';
import type { Answer, Given, Visit } from '../../lib/model.gen';
import { isOpen, mayWrite, roleIn, writeVisit } from '../../lib/visit-writer';

interface CardVisit {
  readonly card: ClientCard;
  readonly visit: VisitCard;
}

/** Items that two people answered apart, as plain sentences with a choice. */
export function Choices(props: { readonly visits: readonly CardVisit[] }) {
  if (props.visits.length === 0) return <p>Nothing: no two people answered the same question differently.</p>;
  return (
    <>
      {props.visits.map((one) => (
        <VisitChoices key={one.visit.id} {...one} />
      ))}
    </>
  );
}

function VisitChoices(props: CardVisit) {
  const { card, visit } = props;
  const view = useMemo(() => openVisit(visit.id), [visit.id]).value;
  const open = view?.visit.answers.filter((answer) => answer.heads.length > 1) ?? [];
  return (
    <article class="choices">
      <h3>
        {card.name},{' '}
        <a class="link-row" href={links.map(visit.id)}>
          visit of {timeWords(visit.startedAt)}
        </a>
      </h3>
      {view ? (
        open.map((answer) => <ItemChoice key={answer.item} visit={view.visit} checklist={view.checklist} answer={answer} />)
      ) : (
        <p role="status">Opening the visit…</p>
      )}
    </article>
  );
}

function ItemChoice(props: { readonly visit: Visit; readonly checklist: Definition; readonly answer: Answer }) {
  const { visit, answer } = props;
  const saver = useSave();
  const may = mayWrite(roleIn(visit.team), 'answer-chosen');
  const item = findItem(props.checklist, answer.item)?.item;
  const keep = (head: Given) => {
    const drop = answer.heads.filter((other) => other.ref !== head.ref).map((other) => other.ref);
    void saver.save('choice', () => writeVisit(visit, 'answer-chosen', { item: answer.item, keep: head.ref, drop }));
  };
  return (
    <div class="item-choice">
      <h4>{item?.title ?? answer.item}</h4>
      {may ? null : <p>A clinician or the lead of the team chooses.</p>}
      {may && !isOpen(visit) ? <p>The visit is signed: open it and choose “Amend” first.</p> : null}
      <ul class="plain-list">
        {answer.heads.map((head) => {
          const words = item ? answerWords(item, props.checklist, head) : 'an answer to an item that this app does not know';
          return (
            <li key={head.ref} class="choice-head">
              <p>{sentenceOf(head, words)}</p>
              {may && isOpen(visit) ? (
                <Button label={`Keep this one: ${words}, ${personName(head.by)}`} onPress={() => keep(head)}>
                  Keep this one
                </Button>
              ) : null}
            </li>
          );
        })}
      </ul>
      <SavedLine state={saver.state} />
    </div>
  );
}

function sentenceOf(head: Given, words: string): string {
  const who = personName(head.by);
  const name = who.charAt(0).toUpperCase() + who.slice(1);
  const note = head.note ? ` with the note “${head.note}”` : '';
  return `${name} answered “${words}”${note}, ${timeWords(head.at)}.`;
}
