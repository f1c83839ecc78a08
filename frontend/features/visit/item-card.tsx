import { useEffect, useRef, useState } from 'preact/hooks';
import { EffectMark, More, SavedLine, useSave, type Saver, type SaveState } from '../../ui';
import { bare, headsOf, savedWords } from '../../ui/answer';
import { personName, sentenceOf } from '../../ui/words';
import { syncState, type Item, type VisitView } from '../../lib';
import type { AnswerGiven, Ref } from '../../lib/model.gen';
import { isOpen, writeVisit } from '../../lib/visit-writer';
import { withWords } from '../../ui/visit/in-use';
import { type Give, AnswerBody } from './answer-body';
import { ComputedBody } from './computed-body';
import { Conflict } from './conflict';
import { ItemAsides } from './item-asides';
import { standingOf } from './progress';
import { remember, tellAnswer, undoSteps } from './undo';

interface CardProps {
  readonly item: Item;
  readonly view: VisitView;
  readonly focused: boolean;
}

const nothingSaid: SaveState = { kind: 'idle' };

/** What the card shows while a write runs: the answer just given, until the store has it or refuses. */
function useAnswer(props: CardProps) {
  const { item, view } = props;
  const saver = useSave();
  const heads = headsOf(view.visit, item.id);
  const [pending, setPending] = useState<{ readonly answer: AnswerGiven; readonly over: string } | null>(null);
  const [saved, setSaved] = useState<Ref | null>(null);
  const over = heads.map((head) => head.ref).join(' ');
  // What comes over the old answers once may go again: the server may set it aside,
  // and then the old ones stand, not what was given over them.
  if (pending !== null && pending.over !== over) setPending(null);
  const saving = pending !== null && pending.over === over;
  const shown = saving ? pending.answer : bare(heads.length === 1 ? heads[0] : undefined, item.id);
  const give: Give = async (answer) => {
    setPending({ answer, over });
    setSaved(null);
    const step = { visit: view.visit.id, item: item.id, title: item.title, before: bare(heads.at(-1), item.id) };
    const done = await saver.save(savedWords(item, view.checklist, shown, answer), async () =>
      setSaved(await writeVisit(view.visit, 'answer-given', answer)),
    );
    if (done) {
      undoSteps.value = remember(undoSteps.value, step);
      tellAnswer(view.checklist, step, answer);
    } else setPending(null);
    return done;
  };
  const setAside = saved !== null && syncState.value.refused.some((one) => one.ref === saved);
  // What was saved here and taken back or answered over elsewhere is not what counts any more.
  const replaced = saved !== null && !saving && saver.state.kind === 'saved' && !heads.some((head) => head.ref === saved);
  const save: Saver['save'] = (what, write) => {
    setSaved(null);
    return saver.save(what, write);
  };
  return { heads, shown, give, save, said: replaced ? nothingSaid : saver.state, saving, setAside };
}

function StandingLine(props: CardProps & { readonly shown: AnswerGiven; readonly by: string | undefined; readonly about: string }) {
  const { item, view, shown } = props;
  const standing = standingOf(item, view.visit, view.result);
  if (standing === 'choice') return null;
  if (item.from !== undefined && shown.state !== 'not-applicable') return null;
  const who = props.by === undefined || shown.state === 'not-tested' ? '' : `, by ${personName(props.by)}`;
  return (
    <p class={`standing standing-${shown.state}`}>
      {standingWords[shown.state] ?? shown.state}
      {shown.state === 'not-applicable' && shown.reason ? `: ${shown.reason}` : ''}
      {who}
      {shown.state === 'not-tested' ? '' : props.about}
    </p>
  );
}

const standingWords: Readonly<Record<string, string>> = {
  'not-tested': 'Not tested',
  answered: 'Answered',
  'not-applicable': 'Does not apply',
};

function Raised(props: { readonly item: string; readonly view: VisitView }) {
  const raised = props.view.result?.effects.filter((effect) => effect.item === props.item) ?? [];
  if (raised.length === 0) return null;
  return (
    <ul class="plain-list" aria-label="What this answer raises">
      {raised.map((effect) => (
        <li key={effect.effect} class="sentence">
          <EffectMark effect={effect.effect} />
          <span>{sentenceOf(effect.message)}</span>
        </li>
      ))}
    </ul>
  );
}

function WhyAndWhat(props: { readonly item: Item }) {
  const { why, if_poor: poor } = props.item;
  if (why === undefined && poor === undefined) return null;
  return (
    <More summary="Why, and what to do">
      {why ? (
        <p>
          <strong>Why: </strong>
          {why}
        </p>
      ) : null}
      {poor ? (
        <p>
          <strong>If it is poor: </strong>
          {poor}
        </p>
      ) : null}
    </More>
  );
}

/** One question: its prompt, its answer in the item's own way, and all that goes with it. */
export function ItemCard(props: CardProps) {
  const { item, view } = props;
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    if (!props.focused) return;
    heading.current?.scrollIntoView({ block: 'start' });
    heading.current?.focus({ preventScroll: true });
  }, [props.focused]);
  const { heads, shown, give, save, said, saving, setAside } = useAnswer(props);
  const open = isOpen(view.visit);
  return (
    <article class="card item-card" id={item.id} data-about={item.id} aria-labelledby={`${item.id}-title`}>
      <header class="card-head">
        <h2 id={`${item.id}-title`} ref={heading} tabIndex={-1}>
          {item.title}
        </h2>
        <StandingLine {...props} shown={shown} by={heads[0]?.by} about={heads[0] ? withWords(view.visit, heads[0]) : ''} />
      </header>
      <p class="prompt" id={`${item.id}-prompt`}>
        {item.prompt}
      </p>
      {heads.length > 1 ? <Conflict item={item} view={view} heads={heads} save={save} /> : null}
      {item.from !== undefined ? (
        <ComputedBody item={item} view={view} shown={shown} />
      ) : (
        <AnswerBody item={item} view={view} shown={shown} give={give} open={open} saving={saving} />
      )}
      <Raised item={item.id} view={view} />
      <ItemAsides item={item} view={view} shown={shown} give={give} open={open} saving={saving}>
        <WhyAndWhat item={item} />
      </ItemAsides>
      {setAside ? (
        <p class="saved saved-failed" role="alert">
          Set aside by the server: it is kept and does not count.{' '}
          <a class="link-row" href="/sync">
            Why, and what to do
          </a>
        </p>
      ) : (
        <SavedLine state={said} />
      )}
    </article>
  );
}
