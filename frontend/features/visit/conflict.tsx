import { Banner, Button, timeWords, type Saver } from '../../ui';
import { answerWords } from '../../ui/answer';
import { personName } from '../../ui/words';
import type { Item, VisitView } from '../../lib';
import type { Given } from '../../lib/model.gen';
import { isOpen, mayWrite, roleIn, writeVisit } from '../../lib/visit-writer';

/** Two or more answers that had not seen each other: both stand here until somebody chooses. */
export function Conflict(props: {
  readonly item: Item;
  readonly view: VisitView;
  readonly heads: readonly Given[];
  readonly save: Saver['save'];
}) {
  const { item, view, heads, save } = props;
  const may = isOpen(view.visit) && mayWrite(roleIn(view.visit.team), 'answer-chosen');
  const keep = (kept: Given) => {
    const drop = heads.filter((head) => head.ref !== kept.ref).map((head) => head.ref);
    void save(`${item.title}, your choice`, () => writeVisit(view.visit, 'answer-chosen', { item: item.id, keep: kept.ref, drop }));
  };
  return (
    <Banner tone="caution" title="Needs your choice">
      <p>
        This was answered {heads.length === 2 ? 'twice' : `${heads.length} times`} by people who could not see each other’s answer. Nothing
        is lost. Until someone chooses, the more cautious one counts.
      </p>
      <ul class="plain-list choices-open">
        {heads.map((head) => (
          <li key={head.ref}>
            <p>
              <strong>{answerWords(item, view.checklist, head)}</strong>
              <br />
              said by {personName(head.by)}, {timeWords(head.at)}
              {head.note ? `. Note: ${head.note}` : ''}
            </p>
            {may ? (
              <Button onPress={() => keep(head)} label={`Keep this one: ${answerWords(item, view.checklist, head)}`}>
                Keep this one
              </Button>
            ) : null}
          </li>
        ))}
      </ul>
      {may ? <p>Or answer anew below; then both make room.</p> : <p>A clinician or the lead of the team chooses.</p>}
    </Banner>
  );
}
