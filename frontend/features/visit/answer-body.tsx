import { useState } from 'preact/hooks';
import { Button, ChoiceRows, Field, Segments, readNumber, useDraft } from '../../ui';
import { answerWords, factsAndNote, levelChoices, outOfRange, rangeOf, rangeWords, typedDecimals, unitLabel } from '../../ui/answer';
import { Input, PlainForm } from '../../ui/inputs';
import type { Item, VisitView } from '../../lib';
import type { AnswerGiven } from '../../lib/model.gen';
import { Bands } from './bands';

/** Gives an answer for the card's item and keeps what stood before for undo. Resolves to whether it was saved. */
export type Give = (answer: AnswerGiven) => Promise<boolean>;

export interface BodyProps {
  readonly item: Item;
  readonly view: VisitView;
  readonly shown: AnswerGiven;
  readonly give: Give;
  /** False on a signed visit: the answer is shown, not offered. */
  readonly open: boolean;
  /** An answer is on its way to the disk; what the engine says is about the one before. */
  readonly saving?: boolean | undefined;
}

function LevelBody(props: BodyProps) {
  const { item, shown } = props;
  return (
    <ChoiceRows
      legend={item.prompt}
      legendHidden
      value={shown.level ?? ''}
      options={levelChoices(item, props.view.checklist)}
      onChange={(level) => void props.give({ item: item.id, state: 'answered', level, ...factsAndNote(shown) })}
    />
  );
}

function NumberBody(props: BodyProps) {
  const { item, shown } = props;
  const draft = useDraft(
    { about: props.view.visit.id, name: `number ${item.id}`, title: item.title },
    shown.number === undefined ? '' : String(shown.number),
    !props.saving,
  );
  const { value: text, unsaved } = draft;
  const [error, setError] = useState<string | undefined>(undefined);
  const read = readNumber(text, typedDecimals(item), rangeOf(item).least < 0);
  const save = () => {
    if (read.kind === 'wrong') return setError(read.message);
    if (read.kind === 'blank') return setError(`Expected ${rangeWords(item)}. To leave it open, choose “Back to not tested”.`);
    const wrong = outOfRange(item, read.value);
    setError(wrong);
    if (wrong !== undefined) return;
    draft.set(String(read.value));
    void props.give({ item: item.id, state: 'answered', number: read.value, ...factsAndNote(shown) });
  };
  return (
    <PlainForm class="number-body" onSubmit={() => save()}>
      <Field
        label={`Value${unitLabel(item) ? ` (${unitLabel(item)})` : ''}`}
        hint={`Allowed: ${rangeWords(item)}. Other numbers are refused.`}
        error={error}
      >
        {(ids) => (
          <span class="number-row">
            <Input
              id={ids.id}
              class="input input-number"
              type="text"
              inputMode={rangeOf(item).least < 0 ? 'text' : 'decimal'}
              maxLength={12}
              value={text}
              aria-describedby={ids.describedBy}
              aria-invalid={ids.invalid}
              onInput={(event) => {
                draft.set(event.currentTarget.value);
                setError(undefined);
              }}
            />
            <span class="unit">{unitLabel(item)}</span>
            <Button type="submit" kind={unsaved ? 'main' : 'plain'} label={`Save ${item.title}`}>
              Save
            </Button>
          </span>
        )}
      </Field>
      <Bands item={item} view={props.view} saved={!unsaved && !props.saving} />
    </PlainForm>
  );
}

function numbersTo(most: number) {
  return Array.from({ length: most + 1 }, (_, index) => ({ value: String(index), label: String(index) }));
}

function CountBody(props: BodyProps) {
  const { item, shown } = props;
  const { most } = rangeOf(item);
  return (
    <>
      <Segments
        legend={`How many, of ${most}`}
        value={shown.number === undefined ? '' : String(shown.number)}
        options={numbersTo(most)}
        onChange={(value) => void props.give({ item: item.id, state: 'answered', number: Number(value), ...factsAndNote(shown) })}
      />
      <Bands item={item} view={props.view} saved={!props.saving} />
    </>
  );
}

/** What was chosen of two sides and is not saved yet. */
interface Half {
  readonly left?: number | undefined;
  readonly right?: number | undefined;
}

const noHalf: Half = {};

/** A count for each side. It is saved when both are chosen: half an answer is none. */
function SidesBody(props: BodyProps) {
  const { item, shown } = props;
  const { most } = rangeOf(item);
  const draft = useDraft<Half>({ about: props.view.visit.id, name: `sides ${item.id}`, title: item.title }, noHalf);
  const half = draft.value;
  const left = half.left ?? shown.left;
  const right = half.right ?? shown.right;
  const choose = (next: { readonly left?: number | undefined; readonly right?: number | undefined }) => {
    const whole = { left, right, ...next };
    draft.set(whole);
    if (whole.left === undefined || whole.right === undefined) return;
    void props
      .give({ item: item.id, state: 'answered', left: whole.left, right: whole.right, ...factsAndNote(shown) })
      .then((done) => done && draft.drop());
  };
  const whole = left !== undefined && right !== undefined;
  return (
    <>
      <Segments
        legend={`Left, of ${most}`}
        value={left === undefined ? '' : String(left)}
        options={numbersTo(most)}
        onChange={(value) => choose({ left: Number(value) })}
      />
      <Segments
        legend={`Right, of ${most}`}
        value={right === undefined ? '' : String(right)}
        options={numbersTo(most)}
        onChange={(value) => choose({ right: Number(value) })}
      />
      {!whole && (left !== undefined || right !== undefined) ? (
        <p class="field-hint" role="status">
          Not saved yet: choose the other side too.
        </p>
      ) : null}
      <Bands item={item} view={props.view} saved={half.left === undefined && half.right === undefined && !props.saving} />
    </>
  );
}

const mostButtons = 12;

/** The way to answer an item that is not computed. */
export function AnswerBody(props: BodyProps) {
  const { item, shown } = props;
  if (!props.open) return <p class="answer-fixed">{answerWords(item, props.view.checklist, shown)}</p>;
  if (item.type !== 'number' && item.type !== 'count') return <LevelBody {...props} />;
  if (item.sides) return <SidesBody {...props} />;
  return item.type === 'count' && rangeOf(item).most <= mostButtons ? <CountBody {...props} /> : <NumberBody {...props} />;
}
