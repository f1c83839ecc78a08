import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { AreaField, Button, TextField, useDraft } from '../../ui';
import { answerWords, bandLines, levelChoices } from '../../ui/answer';
import { itemIn } from '../../ui/result/items';
import { sourceOf } from '../../ui/visit/links';
import { TermText } from '../../ui/term';
import { personName, sentenceOf } from '../../ui/words';
import { lengths, type AnswerCeiling, type AnswerGiven } from '../../lib/model.gen';
import type { Item } from '../../lib';
import type { BodyProps } from './answer-body';
import { ceilingsOf, useCeilings } from './ceilings';

/** How an answer came about, where it was not given to the item by itself. */
const methodWords: Readonly<Record<string, string>> = {
  'all-fine': 'given with others of its part: “all of these are fine”',
  'as-last-visit': 'as at the last visit, confirmed',
};

export interface MoreProps extends BodyProps {
  /** Who gave the answer that stands; undefined for none. */
  readonly by: string | undefined;
  /** The control that the answer is about, in words. */
  readonly about: string;
}

/** What one answer allows; what else must be so stands below it. */
function Allows(props: { readonly rows: readonly AnswerCeiling[] }) {
  return (
    <>
      {props.rows.map((row) => (
        <span key={row.fact ?? ''} class={row.ceiling === 'wider-ground' ? 'allows' : 'allows allows-less'}>
          {sentenceOf(row.message)}
        </span>
      ))}
    </>
  );
}

/** Each answer in full, and what it allows when all else is at its best. */
function Answers(props: BodyProps) {
  const { item, view } = props;
  const of = useCeilings(view.visit).get(item.id);
  const rows = (is: (one: AnswerCeiling) => boolean) => ceilingsOf(of, is);
  const levels = levelChoices(item, view.checklist);
  const lines: readonly (readonly [string, readonly AnswerCeiling[]])[] = [
    ...levels.map((one) => [`${one.label}${one.text ? `: ${one.text}` : ''}`, rows((row) => row.level === one.value)] as const),
    ...(levels.length > 0 ? [] : bandLines(item).map((line, at) => [line, rows((row) => row.band === at + 1)] as const)),
    ['Whatever the answer', rows((row) => row.state === 'answered' && !row.level && !row.band)],
    ['Not tested', rows((row) => row.state === 'not-tested')],
    ['Does not apply', rows((row) => row.state === 'not-applicable' && !row.reason)],
    ...(item.na_reasons ?? []).map((reason) => [`Does not apply: ${reason}`, rows((row) => row.reason === reason)] as const),
  ];
  return (
    <dl class="answers-allow" aria-label={`What each answer allows: ${item.title}`}>
      {lines
        .filter(([, list]) => list.length > 0)
        .map(([words, list]) => (
          <div key={words}>
            <dt>{words}</dt>
            <dd>
              <Allows rows={list} />
            </dd>
          </div>
        ))}
    </dl>
  );
}

function WhyAndWhat(props: { readonly item: Item }) {
  const { why, if_poor: poor, from, prompt } = props.item;
  return (
    <>
      {/* What is worked out asks nothing on its card. */}
      {from === undefined ? null : (
        <p>
          <TermText text={prompt} />
        </p>
      )}
      {why ? (
        <p>
          <strong>Why: </strong>
          <TermText text={why} />
        </p>
      ) : null}
      {poor ? (
        <p>
          <strong>If it is poor: </strong>
          <TermText text={poor} />
        </p>
      ) : null}
    </>
  );
}

function withoutValue(shown: AnswerGiven): Pick<AnswerGiven, 'note'> {
  return shown.note ? { note: shown.note } : {};
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
        suggestions={item.na_text ? [item.na_text] : undefined}
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

/** Back to not tested, as last visit, and, only where the item allows it, does not apply. */
function StateButtons(props: BodyProps & { readonly last: AnswerGiven | undefined }) {
  const { item, shown, last, view } = props;
  const { value: asking, set: setAsking } = useDraft({ about: view.visit.id, name: `does not apply ${item.id}` }, false);
  if (asking) return <NotApplicable {...props} onClose={() => setAsking(false)} />;
  const canClear = shown.state !== 'not-tested';
  return (
    <div class="actions">
      {last === undefined || canClear ? null : (
        <Button class="as-last" label={`As last visit: ${item.title}`} onPress={() => void props.give({ ...last, ...withoutValue(shown) })}>
          As last visit: {answerWords(item, view.checklist, last)}
        </Button>
      )}
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
  const save = (value: string) => {
    const trimmed = value.trim();
    draft.set(trimmed);
    if (trimmed === note) return;
    const { note: _before, ...rest } = shown;
    void props.give(trimmed === '' ? rest : { ...rest, note: trimmed });
  };
  return (
    <AreaField
      label={`Note on ${item.title}`}
      hint="What people report goes here; the answer is for what was seen today. Saved when you leave the field."
      value={draft.value}
      onInput={draft.set}
      onCommit={save}
      maxLength={lengths['answer-given'].note}
      rows={2}
    />
  );
}

/** Who said it, and how. */
function Said(props: MoreProps) {
  const { shown, by } = props;
  if (by === undefined || shown.state === 'not-tested') return null;
  const how = methodWords[shown.method ?? ''];
  return (
    <p class="field-hint">
      Answered by {personName(by)}
      {how ? `, ${how}` : ''}
      {props.about}.
    </p>
  );
}

/** Where a computed item comes from, and where to measure it. */
function Computed(props: BodyProps) {
  const { item, view } = props;
  if (item.from === undefined) return null;
  const source = sourceOf(item.from);
  const worked = itemIn(view.result, item.id);
  return (
    <p>
      {source.words} It is never typed.
      {worked?.state === 'answered' ? ` It comes to ${sentenceOf(worked.shown)}.` : ''}{' '}
      <a href={source.href(view.visit.id)}>{source.link}</a>
    </p>
  );
}

/** What stands behind the three dots of an item. */
export function ItemMore(props: MoreProps & { readonly last: AnswerGiven | undefined; readonly children?: ComponentChildren }) {
  return (
    <div class="item-more">
      <div class="item-more-facts">
        <Computed {...props} />
        {props.children}
        <Answers {...props} />
        <Said {...props} />
      </div>
      <div class="item-more-acts">
        <WhyAndWhat item={props.item} />
        {props.open ? (
          <>
            {props.item.from === undefined ? <Note {...props} /> : null}
            <StateButtons {...props} />
          </>
        ) : null}
      </div>
    </div>
  );
}
