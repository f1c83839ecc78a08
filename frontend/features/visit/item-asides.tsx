import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { AreaField, Button, More, Segments, TextField, useDraft } from '../../ui';
import type { Ask } from '../../lib';
import { lengths, type AnswerGiven } from '../../lib/model.gen';
import type { BodyProps } from './answer-body';

function withoutValue(shown: AnswerGiven): Pick<AnswerGiven, 'note'> {
  return shown.note ? { note: shown.note } : {};
}

function FactRow(props: BodyProps & { readonly ask: Ask }) {
  const { item, shown, ask } = props;
  const fact = shown.facts?.[ask.fact];
  const ready = item.from !== undefined ? shown.state !== 'not-applicable' : shown.state === 'answered';
  return (
    <Segments
      legend={ask.prompt}
      value={fact === undefined ? '' : fact ? 'yes' : 'no'}
      options={[
        { value: 'yes', label: 'Yes' },
        { value: 'no', label: 'No' },
      ]}
      disabled={!ready}
      onChange={(value) => void props.give({ ...shown, state: 'answered', facts: { ...shown.facts, [ask.fact]: value === 'yes' } })}
    />
  );
}

/** Questions beside the item. Left open they count as yes, the cautious side. */
function Facts(props: BodyProps) {
  const asks = props.item.asks ?? [];
  if (asks.length === 0) return null;
  return (
    <div class="facts">
      {asks.map((ask) => (
        <FactRow key={ask.fact} {...props} ask={ask} />
      ))}
      <p class="field-hint">
        {props.item.from === undefined && props.shown.state !== 'answered' ? 'Answer the item first. ' : ''}Left open, it counts as yes.
      </p>
    </div>
  );
}

function NotApplicable(props: BodyProps & { readonly onClose: () => void }) {
  const { item, shown } = props;
  const draft = useDraft(
    { about: props.view.visit.id, name: `why not ${item.id}`, title: `${item.title}, why it does not apply` },
    shown.reason ?? '',
    !props.saving,
  );
  const { value: reason, set: setReason } = draft;
  const [error, setError] = useState<string | undefined>(undefined);
  const leave = () => {
    draft.drop();
    props.onClose();
  };
  const saveFor = async (why: string) => {
    setError(undefined);
    if (await props.give({ item: item.id, state: 'not-applicable', reason: why, ...withoutValue(shown) })) leave();
  };
  const save = async () => {
    if (reason.trim() === '') return setError('Expected a short reason, got nothing.');
    await saveFor(reason.trim());
  };
  return (
    <div class="inset">
      {item.na_reasons ? (
        <>
          <p class="field-hint">These reasons are said with the level, which then holds only while they are true:</p>
          <div class="actions">
            {item.na_reasons.map((why) => (
              <Button key={why} onPress={() => void saveFor(why)}>
                Does not apply: {why}
              </Button>
            ))}
          </div>
        </>
      ) : null}
      <TextField
        label={item.na_reasons ? 'Another reason why it does not apply' : 'Why does it not apply?'}
        value={reason}
        onInput={setReason}
        error={error}
        hint={item.na_text}
        maxLength={lengths['answer-given'].reason}
        required
      />
      <div class="actions">
        <Button kind="main" onPress={() => void save()}>
          Save: does not apply
        </Button>
        <Button kind="quiet" onPress={leave}>
          Leave as it was
        </Button>
      </div>
    </div>
  );
}

/** Back to not tested, and, only where the item allows it, does not apply. */
function StateButtons(props: BodyProps) {
  const { item, shown } = props;
  const { value: asking, set: setAsking } = useDraft({ about: props.view.visit.id, name: `does not apply ${item.id}` }, false);
  if (asking) return <NotApplicable {...props} onClose={() => setAsking(false)} />;
  const canClear = shown.state !== 'not-tested';
  if (!canClear && !item.na) return null;
  return (
    <div class="actions">
      {canClear ? (
        <Button
          kind="quiet"
          label={`Back to not tested: ${item.title}`}
          onPress={() => void props.give({ item: item.id, state: 'not-tested', ...withoutValue(shown) })}
        >
          Back to not tested
        </Button>
      ) : null}
      {item.na ? (
        <Button
          kind="quiet"
          label={`${shown.state === 'not-applicable' ? 'Change the reason…' : 'Does not apply…'} ${item.title}`}
          onPress={() => setAsking(true)}
        >
          {shown.state === 'not-applicable' ? 'Change the reason…' : 'Does not apply…'}
        </Button>
      ) : null}
    </div>
  );
}

function Note(props: BodyProps) {
  const { item, shown } = props;
  const note = shown.note ?? '';
  const draft = useDraft({ about: props.view.visit.id, name: `note ${item.id}`, title: `Note on ${item.title}` }, note, !props.saving);
  const [open] = useState(draft.unsaved);
  const save = (value: string) => {
    const trimmed = value.trim();
    draft.set(trimmed);
    if (trimmed === note) return;
    const { note: _before, ...rest } = shown;
    void props.give(trimmed === '' ? rest : { ...rest, note: trimmed });
  };
  return (
    <More summary={note === '' ? 'Add a note' : `Note: ${note}`} open={open}>
      <AreaField
        label={`Note on ${item.title}`}
        hint="What people report goes here; the answer is for what was seen today. Saved when you leave the field."
        value={draft.value}
        onInput={draft.set}
        onCommit={save}
        maxLength={lengths['answer-given'].note}
        rows={2}
      />
    </More>
  );
}

/** What goes with an answer: side questions, the other two states, a note. */
export function ItemAsides(props: BodyProps & { readonly children?: ComponentChildren }) {
  if (!props.open) {
    return (
      <>
        {props.shown.note ? <p class="field-hint">Note: {props.shown.note}</p> : null}
        {props.children}
      </>
    );
  }
  return (
    <>
      <Facts {...props} />
      <div class="card-foot">
        <Note {...props} />
        {props.children}
        <StateButtons {...props} />
      </div>
    </>
  );
}
