import { useEffect, useState } from 'preact/hooks';
import { display, numberWords, Pad, readNumber, SavedLine, useDraft } from '../../ui';
import { gaugeText } from '../../ui/typing';
import type { Reading, SeriesSummary, Visit } from '../../lib/model.gen';
import { MovePanel } from './move-panel';
import { ApartNotice, QuestionNotice } from './notices';
import { openQuestions } from './questions';
import { TakenBoxes, WantedBoxes } from './set-boxes';
import { readingsIn, type Measurement, type Slot } from './slots';
import type { Repeats } from './use-repeats';

/** How long a pause is that keeps a number, in milliseconds. */
const pause = 1_200;

/** A pause may keep it: a whole number, for those who want that. */
const mayPause = (typed: string) => display.value.pause === 'keep' && /^[1-9]\d*$/.test(typed);

/** Keeps a whole number that is like the others after a pause; true while one is about to be kept. */
function usePause(typed: string, isUsual: Repeats['isUsual'], keep: () => void): boolean {
  const [usual, setUsual] = useState('');
  const wanted = mayPause(typed);
  useEffect(() => {
    if (!wanted) return undefined;
    let here = true;
    let timer: ReturnType<typeof setTimeout> | undefined;
    void isUsual(Number(typed)).then((is) => {
      if (!here || !is) return;
      setUsual(typed);
      timer = setTimeout(keep, pause);
    });
    return () => {
      here = false;
      clearTimeout(timer);
    };
  }, [typed, wanted]);
  return wanted && usual === typed;
}

/** What stands on the pad, and what becomes of it. */
function useTypedReading(repeats: Repeats, what: string) {
  const { value: typed, set: setTyped } = useDraft(
    { about: repeats.visit.id, name: `pad ${what}`, title: 'A reading that is being typed' },
    '',
  );
  const [error, setError] = useState<string | undefined>(undefined);
  const { unit, decimals, place } = repeats;
  const type = (text: string) => {
    setTyped(text);
    setError(undefined);
  };
  /** What could not be kept goes back to where it was typed, unless the next is there by now. */
  const giveBack = (text: string, why: string | undefined) => {
    setTyped((now) => (now === '' ? text : now));
    setError(why === undefined ? undefined : `${text}: ${why}`);
  };
  const done = (text: string, begun: string) => {
    const read = readNumber(gaugeText(text, unit), decimals);
    if (read.kind === 'blank') return setError(`Expected a number in ${unit}. 0 means tried and none.`);
    if (place.site === '') return setError('Choose the site first.');
    if (read.kind === 'wrong') return setError(read.message);
    type(begun);
    void repeats.take(read.value).then((taken) => {
      if (taken.kind === 'refused') giveBack(text, taken.sentence);
      if (taken.kind === 'failed') giveBack(text, undefined);
    });
  };
  const keeping = usePause(typed, repeats.isUsual, () => done(typed, ''));
  /** What the pause would keep here is kept at once, since one goes elsewhere: else its digits would begin the next number. */
  const leave = () => {
    if (!mayPause(typed) || place.site === '') return;
    type('');
    void repeats.takeIfUsual(Number(typed)).then((taken) => {
      if (taken.kind !== 'kept') giveBack(typed, taken.kind === 'refused' ? taken.sentence : undefined);
    });
  };
  return { typed, error, type, done, keeping, leave };
}

function Notices(props: {
  readonly repeats: Repeats;
  readonly measurement: Measurement;
  readonly current: Slot;
  readonly standing: SeriesSummary | undefined;
  readonly set: readonly Reading[];
  readonly touched: Reading | undefined;
  readonly onTouch: (ref: string) => void;
}) {
  const { repeats, measurement, touched } = props;
  const { visit } = repeats;
  const [question] = openQuestions(visit, measurement.what);
  if (touched !== undefined) {
    return (
      <MovePanel
        key={touched.ref}
        visit={visit}
        reading={touched}
        set={props.set}
        slots={measurement.slots}
        current={props.current}
        saver={repeats.saver}
        onMove={repeats.move}
        onClose={() => props.onTouch('')}
      />
    );
  }
  if (question !== undefined) {
    return (
      <QuestionNotice
        key={question.ref}
        question={question}
        unit={repeats.unit}
        onReplace={() => repeats.replace(question)}
        onRight={() => repeats.confirm(question)}
      />
    );
  }
  return <ApartNotice standing={props.standing} visit={visit.id} />;
}

function doneWords(next: boolean): string {
  return next ? 'Keep, next' : 'Keep';
}

/** The pad with the set that is being taken above its keys. */
export function PadPart(props: {
  readonly repeats: Repeats;
  readonly measurement: Measurement;
  readonly current: Slot;
  readonly standing: SeriesSummary | undefined;
  /** Called before one goes to another direction, state or site. */
  readonly leaving: { current: () => void };
}) {
  const { repeats, measurement, current, standing } = props;
  const { place, unit, decimals, wanted } = repeats;
  const visit: Visit = repeats.visit;
  const { value: touched, set: setTouched } = useDraft({ about: visit.id, name: `touched ${measurement.what}` }, '');
  const { typed, error, type, done, keeping, leave } = useTypedReading(repeats, measurement.what);
  props.leaving.current = leave;
  const set = readingsIn(visit, measurement.what, place, current).filter((reading) => !reading.slip);
  const odd = new Set((standing?.odd ?? []).flatMap((at) => set[at]?.ref ?? []));
  const target = Math.max(wanted, set.length + (standing?.wanted ?? 0) + (standing?.more ?? 0));
  const boxes = display.value.boxes === 'row';
  const number = set.length + 1;
  return (
    <div class={boxes ? 'pad-part' : 'pad-part pad-one'}>
      <Pad
        label={`Reading ${number}${number <= target ? ` of ${target}` : ''}, in ${unit}`}
        value={typed}
        unit={unit}
        decimals={decimals}
        error={error}
        doneLabel={doneWords(number >= target)}
        keeping={keeping}
        onChange={type}
        onDone={done}
        before={<TakenBoxes readings={set} odd={odd} chosen={touched} onChoose={setTouched} />}
        after={boxes ? <WantedBoxes done={set.length} wanted={target} /> : null}
        notice={
          <Notices
            repeats={repeats}
            measurement={measurement}
            current={current}
            standing={standing}
            set={set}
            touched={set.find((reading) => reading.ref === touched)}
            onTouch={setTouched}
          />
        }
        undo={repeats.undoWords === '' ? undefined : { words: repeats.undoWords, onPress: repeats.undo }}
      />
      <SavedLine state={repeats.saver.state} />
      {error === undefined && typed !== '' && repeats.saver.state.kind === 'failed' ? (
        <p class="field-hint">{numberWords(Number(typed))} stands on the pad: keep it again.</p>
      ) : null}
    </div>
  );
}
