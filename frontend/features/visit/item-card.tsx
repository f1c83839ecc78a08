import { useEffect, useId, useRef, useState } from 'preact/hooks';
import { Button, EffectMark, useDraft, useSave, type Saver, type SaveState } from '../../ui';
import { answerWords, bare, headsOf, savedWords } from '../../ui/answer';
import { itemIn } from '../../ui/result/items';
import { sourceOf } from '../../ui/visit/links';
import { withWords } from '../../ui/visit/in-use';
import { WhichCounts } from '../../ui/visit/which-counts';
import { personName, sentenceOf } from '../../ui/words';
import { syncState, type Item, type VisitView } from '../../lib';
import type { AnswerGiven, Ref } from '../../lib/model.gen';
import { isOpen, mayWrite, roleIn, writeVisit } from '../../lib/visit-writer';
import { type Give, AnswerBody } from './answer-body';
import { Conflict } from './conflict';
import { Facts } from './item-facts';
import { ItemMore } from './item-more';
import { standingOf } from './progress';
import { RECHECK, RecheckOfItem } from './recheck';
import { remember, tellAnswer, undoSteps } from './undo';

interface CardProps {
  readonly item: Item;
  readonly view: VisitView;
  readonly focused: boolean;
  /** What stood at the visit before; undefined for nothing that can be given today. */
  readonly last?: AnswerGiven | undefined;
  /** The answers of the visit before are shown in this part. */
  readonly offering?: boolean | undefined;
}

const nothingSaid: SaveState = { kind: 'idle' };

/** What the card shows while a write runs: the answer just given, until the store has it or refuses. */
function useAnswer(props: CardProps) {
  const { item, view } = props;
  const saver = useSave();
  const heads = headsOf(view.visit, item.id);
  const [pending, setPending] = useState<{ readonly answer: AnswerGiven; readonly over: string } | null>(null);
  // What was saved here last. It changes only with the saver's state, which draws the card.
  const saved = useRef<Ref | null>(null);
  const over = heads.map((head) => head.ref).join(' ');
  // What comes over the old answers once may go again: the server may set it aside,
  // and then the old ones stand, not what was given over them.
  if (pending !== null && pending.over !== over) setPending(null);
  const saving = pending !== null && pending.over === over;
  const shown = saving ? pending.answer : bare(heads.length === 1 ? heads[0] : undefined, item.id);
  const give: Give = async (answer) => {
    setPending({ answer, over });
    saved.current = null;
    const step = { visit: view.visit.id, item: item.id, title: item.title, before: bare(heads.at(-1), item.id) };
    const done = await saver.save(savedWords(item, view.checklist, shown, answer), async () => {
      saved.current = await writeVisit(view.visit, 'answer-given', answer);
    });
    if (done) {
      undoSteps.value = remember(undoSteps.value, step);
      tellAnswer(view.checklist, step, answer);
    } else setPending(null);
    return done;
  };
  const { current } = saved;
  const setAside = current !== null && syncState.value.refused.some((one) => one.ref === current);
  // What was saved here and taken back or answered over elsewhere is not what counts any more.
  const replaced = current !== null && !saving && saver.state.kind === 'saved' && !heads.some((head) => head.ref === current);
  const save: Saver['save'] = (what, write) => {
    saved.current = null;
    return saver.save(what, write);
  };
  return { heads, shown, give, save, said: replaced ? nothingSaid : saver.state, saving, setAside };
}

/** How the item stands, as a mark with its word; both where the word is short, and said in full to who listens. */
function StandingMark(
  props: CardProps & { readonly shown: AnswerGiven; readonly by: string | undefined; readonly about: string; readonly saving: boolean },
) {
  const { item, view, shown } = props;
  const standing = standingOf(item, view.visit, view.result);
  const by = props.by === undefined || personName(props.by) === 'you' ? '' : `by ${personName(props.by)}`;
  // With which control is said where it is another one; else it stands behind the dots.
  const words = `${by}${props.about.includes('does not count') ? props.about : ''}`.replace(/^, /, '');
  if (standing === 'choice') return <span class="standing standing-choice">needs your choice</span>;
  if (shown.state === 'not-applicable')
    return <span class="standing standing-not-applicable">Does not apply{shown.reason ? `: ${shown.reason}` : ''}</span>;
  if (standing === 'answered' || shown.state === 'answered')
    return (
      <span class={props.saving ? 'standing standing-saving' : 'standing standing-answered'}>
        <span class="unseen">Answered</span>
        {words}
      </span>
    );
  if (props.offering && props.last) return <span class="standing standing-offered">last visit, tap to confirm</span>;
  const needed = item.before_moving ? 'before moving' : item.group === 'need' ? 'needed' : '';
  return <span class="standing standing-not-tested">{needed === '' ? <span class="unseen">Not tested</span> : needed}</span>;
}

function Raised(props: { readonly item: string; readonly view: VisitView }) {
  const raised = props.view.result?.effects.filter((effect) => effect.item === props.item) ?? [];
  if (raised.length === 0) return null;
  return (
    <ul class="plain-list raised" aria-label="What this answer raises">
      {raised.map((effect) => (
        <li key={effect.effect} class="sentence">
          <EffectMark effect={effect.effect} />
          <span>{sentenceOf(effect.message)}</span>
        </li>
      ))}
    </ul>
  );
}

/** Whether the last entry of the card is on the disk: a tick, with the words for who listens. */
function SavedTick(props: { readonly state: SaveState; readonly setAside: boolean }) {
  const { state, setAside } = props;
  if (setAside)
    return (
      <p class="saved saved-failed" role="alert">
        Set aside by the server: it is kept and does not count.{' '}
        <a class="link-row" href="/sync">
          Why, and what to do
        </a>
      </p>
    );
  if (state.kind === 'failed')
    return (
      <p class="saved saved-failed" role="alert">
        Not saved. {state.message}
      </p>
    );
  return (
    <p class={state.kind === 'saved' ? 'saved saved-tick' : 'saved saved-quiet'} role="status">
      {state.kind === 'saving' ? 'Saving…' : null}
      {state.kind === 'saved' ? <span class="unseen">Saved on this tablet: {state.what}</span> : null}
    </p>
  );
}

/** The value of a computed item: there is nothing to tap but the way to where it is measured. */
function ComputedValue(props: { readonly item: Item; readonly view: VisitView }) {
  const { item, view } = props;
  const source = sourceOf(item.from ?? '');
  const worked = itemIn(view.result, item.id);
  const band = worked?.state === 'answered' ? item.bands?.[(worked.band ?? 0) - 1]?.text : undefined;
  return (
    <p class="computed-value">
      {worked?.state === 'answered' ? (
        <>
          <output>{sentenceOf(worked.shown)}</output>
          {band ? <span> {band}</span> : null}
        </>
      ) : (
        <a href={source.href(view.visit.id)} aria-label={`${source.link}: ${item.title}, not measured yet`}>
          not measured yet
        </a>
      )}
    </p>
  );
}

/** One question: its prompt, its answer in the item's own way, and behind the dots all that goes with it. */
export function ItemCard(props: CardProps) {
  const { item, view } = props;
  const heading = useRef<HTMLHeadingElement>(null);
  const { value: more, set: setMore } = useDraft({ about: view.visit.id, name: `more ${item.id}` }, false);
  const moreId = useId();
  const toggled = useRef(false);
  // An open card takes the whole row, and so may leave the place where it was touched.
  useEffect(() => {
    if (toggled.current && more) heading.current?.closest('.item-card')?.scrollIntoView({ block: 'nearest' });
  }, [more]);
  useEffect(() => {
    if (!props.focused) return;
    heading.current?.scrollIntoView({ block: 'center' });
    heading.current?.focus({ preventScroll: true });
  }, [props.focused]);
  const { heads, shown, give, save, said, saving, setAside } = useAnswer(props);
  const open = isOpen(view.visit);
  const offer = props.offering && shown.state === 'not-tested' ? props.last : undefined;
  const body = { item, view, shown, give, open, saving, offer };
  const about = heads[0] ? withWords(view.visit, heads[0]) : '';
  const computed = item.from !== undefined;
  const look = ['card', 'item-card', computed ? 'item-computed' : '', more ? 'item-open' : '', props.focused ? 'item-focused' : ''];
  return (
    <article class={look.filter(Boolean).join(' ')} id={item.id} data-about={item.id} aria-labelledby={`${item.id}-title`}>
      <header class="card-head">
        <h2 id={`${item.id}-title`} ref={heading} tabIndex={-1}>
          {item.title}
        </h2>
        <StandingMark {...props} shown={shown} by={heads[0]?.by} about={about} saving={saving} />
        <SavedTick state={said} setAside={setAside} />
        <Button
          kind="quiet"
          class="item-dots"
          label={`More about ${item.title}`}
          expanded={more}
          controls={moreId}
          onPress={() => {
            toggled.current = true;
            setMore(!more);
          }}
        >
          <span aria-hidden="true">•••</span>
        </Button>
      </header>
      {computed ? null : (
        <p class="prompt" id={`${item.id}-prompt`}>
          {item.prompt}
        </p>
      )}
      {heads.length > 1 ? <Conflict item={item} view={view} heads={heads} save={save} /> : null}
      {computed ? <ComputedValue item={item} view={view} /> : <AnswerBody {...body} />}
      {offer?.state === 'not-applicable' ? (
        <Button class="as-last" onPress={() => void give(offer)}>
          {answerWords(item, view.checklist, offer)}
        </Button>
      ) : null}
      <Facts {...body} />
      {item.id === RECHECK && open && mayWrite(roleIn(view.visit.team), 'plan-agreed') ? <RecheckOfItem view={view} /> : null}
      {shown.note && !more ? <p class="field-hint item-note">Note: {shown.note}</p> : null}
      <WhichCounts view={view} item={item.id} />
      <Raised item={item.id} view={view} />
      <div id={moreId}>{more ? <ItemMore {...body} by={heads[0]?.by} about={about} last={props.last} /> : null}</div>
    </article>
  );
}
