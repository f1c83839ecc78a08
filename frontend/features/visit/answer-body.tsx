import { useState } from 'preact/hooks';
import { Button, Field, LevelButtons, Segments, isBegun, readNumber, useDraft, type Choice } from '../../ui';
import {
  answerWords,
  buttonsOf,
  factsAndNote,
  levelChoices,
  outOfRange,
  rangeOf,
  rangeWords,
  shortHelp,
  typedDecimals,
  unitLabel,
} from '../../ui/answer';
import { Input, PlainForm } from '../../ui/inputs';
import type { Item, VisitView } from '../../lib';
import type { AnswerGiven } from '../../lib/model.gen';
import { Bands } from './bands';
import { CountByTouch, TimeByTouch, countableBy } from './count-by-touch';
import { Elsewhere } from './elsewhere';
import { isAsOffered } from './last-visit';

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
  /** What stood at the visit before, while that is shown and nothing is answered. */
  readonly offer?: AnswerGiven | undefined;
}

/** An answer that says what is offered was looked at and confirmed, and the record says so. */
function confirming(props: BodyProps, answer: AnswerGiven): AnswerGiven {
  const { offer } = props;
  return offer !== undefined && isAsOffered(offer, answer) ? { ...offer, ...answer, method: 'as-last-visit' } : answer;
}

function LevelBody(props: BodyProps) {
  const { item, shown, offer } = props;
  const help = item.type === 'help';
  const options = levelChoices(item, props.view.checklist).map((one): Choice => ({
    ...(help ? { value: one.value, label: one.value, text: shortHelp(one) } : one),
    offered: offer?.level === one.value,
  }));
  return (
    <LevelButtons
      columns={help ? 'row' : 'two'}
      legend={item.prompt}
      legendHidden
      describedBy={help ? 'help-legend' : undefined}
      value={shown.level ?? ''}
      options={options}
      onChange={(level) => void props.give(confirming(props, { item: item.id, state: 'answered', level, ...factsAndNote(shown) }))}
    />
  );
}

function NumberBody(props: BodyProps) {
  const { item, shown, offer } = props;
  const draft = useDraft(
    { about: props.view.visit.id, name: `number ${item.id}`, title: item.title },
    shown.number === undefined ? '' : String(shown.number),
    !props.saving,
  );
  const { value: text, unsaved, set: setTyped } = draft;
  const [error, setError] = useState<string | undefined>(undefined);
  const give = (number: number) => {
    setError(undefined);
    setTyped(String(number));
    void props.give(confirming(props, { item: item.id, state: 'answered', number, ...factsAndNote(shown) }));
  };
  const save = () => {
    const read = readNumber(text, typedDecimals(item), rangeOf(item).least < 0);
    if (read.kind === 'wrong') return setError(read.message);
    if (read.kind === 'blank') return setError(`Expected ${rangeWords(item)}. To leave it open, choose “Back to not tested”.`);
    const wrong = outOfRange(item, read.value);
    setError(wrong);
    if (wrong === undefined) give(read.value);
  };
  return (
    <>
      <PlainForm class="number-body" onSubmit={() => save()}>
        <Field label={`Value${unitLabel(item) ? ` (${unitLabel(item)})` : ''}, ${rangeWords(item)}`} error={error}>
          {(ids) => (
            <span class="number-row">
              <Input
                id={ids.id}
                class={offer?.number === undefined ? 'input input-number' : 'input input-number input-offered'}
                type="text"
                inputMode={rangeOf(item).least < 0 ? 'text' : 'decimal'}
                maxLength={12}
                value={text}
                placeholder={offer?.number === undefined ? undefined : String(offer.number)}
                aria-describedby={ids.describedBy}
                aria-invalid={ids.invalid}
                onInput={(event) => {
                  setTyped(event.currentTarget.value);
                  setError(undefined);
                }}
              />
              <span class="unit">{unitLabel(item)}</span>
              <Button type="submit" kind={unsaved ? 'main' : 'plain'} label={`Save ${item.title}`}>
                Save
              </Button>
              {item.unit === 's' ? <TimeByTouch visit={props.view.visit.id} item={item} onTimed={give} /> : null}
            </span>
          )}
        </Field>
      </PlainForm>
      <Bands item={item} view={props.view} saved={!unsaved && !props.saving} />
    </>
  );
}

/** More buttons than this stand in two rows of the same length. */
const ONE_ROW = 8;

/** A button for each number, and where there are more than that, a field. */
function CountBody(props: BodyProps & { readonly numbers: readonly number[] }) {
  const { item, shown, offer, numbers } = props;
  const give = (number: number) => props.give(confirming(props, { item: item.id, state: 'answered', number, ...factsAndNote(shown) }));
  const beyond = shown.number !== undefined && !numbers.includes(shown.number);
  const [typing, setTyping] = useState(beyond || isBegun(props.view.visit.id, `number ${item.id}`));
  const last = Math.max(...numbers);
  if (typing) return <NumberBody {...props} />;
  return (
    <>
      <div class={numbers.length > ONE_ROW ? 'count-row count-row-two' : 'count-row'}>
        <Segments
          legend={item.of === undefined ? item.prompt : `How many, of ${last}`}
          legendHidden
          value={shown.number === undefined ? '' : String(shown.number)}
          options={numbers.map((one) => ({ value: String(one), label: String(one), offered: offer?.number === one }))}
          onChange={(value) => void give(Number(value))}
        />
        {last < rangeOf(item).most || item.unit === '%' ? (
          <Button kind="quiet" label={`Other… for ${item.title}`} onPress={() => setTyping(true)}>
            Other…
          </Button>
        ) : null}
        {countableBy(item) ? <CountByTouch visit={props.view.visit.id} item={item} onCounted={({ number }) => give(number)} /> : null}
      </div>
      <Bands item={item} view={props.view} saved={!props.saving} />
    </>
  );
}

function numbersTo(most: number, offered: number | undefined): readonly Choice[] {
  return Array.from({ length: most + 1 }, (_, index) => ({ value: String(index), label: String(index), offered: offered === index }));
}

/** What was chosen of two sides and is not saved yet. */
interface Half {
  readonly left?: number | undefined;
  readonly right?: number | undefined;
}

const noHalf: Half = {};

/** A count for each side. It is saved when both are chosen: half an answer is none. */
function SidesBody(props: BodyProps) {
  const { item, shown, offer } = props;
  const { most } = rangeOf(item);
  const draft = useDraft<Half>({ about: props.view.visit.id, name: `sides ${item.id}`, title: item.title }, noHalf);
  const half = draft.value;
  const left = half.left ?? shown.left;
  const right = half.right ?? shown.right;
  const choose = async (next: Half): Promise<boolean> => {
    const whole = { left, right, ...next };
    draft.set(whole);
    if (whole.left === undefined || whole.right === undefined) return true;
    const answer = { item: item.id, state: 'answered', left: whole.left, right: whole.right, ...factsAndNote(shown) };
    if (await props.give(confirming(props, answer))) draft.drop();
    return true;
  };
  const whole = left !== undefined && right !== undefined;
  const row = (side: 'left' | 'right', value: number | undefined) => (
    <Segments
      legend={`${side === 'left' ? 'Left' : 'Right'}, of ${most}`}
      value={value === undefined ? '' : String(value)}
      options={numbersTo(most, offer?.[side])}
      onChange={(chosen) => void choose({ [side]: Number(chosen) })}
    />
  );
  return (
    <>
      <div class="count-sides">
        {row('left', left)}
        {row('right', right)}
      </div>
      <CountByTouch visit={props.view.visit.id} item={item} onCounted={({ left: l, right: r }) => choose({ left: l, right: r })} />
      {!whole && (left !== undefined || right !== undefined) ? (
        <p class="field-hint" role="status">
          Not saved yet: choose the other side too.
        </p>
      ) : null}
      <Bands item={item} view={props.view} saved={half.left === undefined && half.right === undefined && !props.saving} />
    </>
  );
}

function Body(props: BodyProps) {
  const { item } = props;
  if (item.type !== 'number' && item.type !== 'count') return <LevelBody {...props} />;
  if (item.sides) return <SidesBody {...props} />;
  const numbers = buttonsOf(item);
  return numbers.length > 0 ? <CountBody {...props} numbers={numbers} /> : <NumberBody {...props} />;
}

/** The way to answer an item that is not computed. */
export function AnswerBody(props: BodyProps) {
  const { item, view, shown } = props;
  if (!props.open) return <p class="answer-fixed">{answerWords(item, view.checklist, shown)}</p>;
  return (
    <>
      <Elsewhere {...props} />
      <Body {...props} />
    </>
  );
}
