import { useState } from 'preact/hooks';
import { Banner, Button, Dialog, More, SavedLine, numberWords, useDraft, useSave } from '../../ui';
import { useLimits } from '../../ui/limits';
import type { VisitView } from '../../lib';
import type { ReadingTaken } from '../../lib/model.gen';
import { writeVisit } from '../../lib/visit-writer';
import { measureTitles } from '../../ui/visit/links';
import { GiantTimer } from './giant-timer';
import { HoldScreen } from './hold-screen';
import { ControlInUse } from '../../ui/visit/in-use';
import { placeOf } from './place';
import { PlaceBar } from './place-bar';
import { ReadingList, SlipHint } from './reading-list';

/** How one kind of answer to a word is timed. */
interface Timed {
  readonly what: 'release' | 'command' | 'stop-command';
  /** The engine's limit that says how many are wanted. */
  readonly wanted: string;
  readonly one: string;
  readonly several: string;
  readonly startWords: string;
  readonly stopWords: string;
  readonly heldWords: string;
  /** Seconds after which nobody waits any longer. */
  readonly most: number;
  readonly how: string;
}

export const TIMED: Readonly<Record<Timed['what'], Timed>> = {
  release: {
    what: 'release',
    wanted: 'releases-wanted',
    one: 'release',
    several: 'releases',
    startWords: 'Touch at “stop!”',
    stopWords: 'Touch when it is in the middle',
    heldWords: 'Or hold this down from “stop!” until it is in the middle',
    most: 20,
    how: 'While the person drives or holds a command, call “stop!” without warning and touch the button. Touch again when the control is back in the middle.',
  },
  'stop-command': {
    what: 'stop-command',
    wanted: 'commands-wanted',
    one: 'stop command',
    several: 'stop commands',
    startWords: 'Touch at “stop!”',
    stopWords: 'Touch when the stop comes',
    heldWords: 'Or hold this down from “stop!” until the stop comes',
    most: 60,
    how: 'Call “stop!” without warning and touch the button. Touch again when the command that stops the chair has come: of switches, head pads, breath or scanning, or of the separate stop where the chair drives on.',
  },
  command: {
    what: 'command',
    wanted: 'commands-wanted',
    one: 'command',
    several: 'commands',
    startWords: 'Touch at the word',
    stopWords: 'Touch when it comes',
    heldWords: 'Or hold this down from the word until it comes',
    most: 120,
    how: 'Ask for a command, in mixed order, and touch the button. Touch again when that command has come. Another command, or none, is a miss. Try them tired too, and at each tilt.',
  },
};

/** Faster than a person can hear and move: the button was touched twice. */
const tooQuick = 0.15;

function Slots(props: { readonly values: readonly (number | null)[]; readonly wanted: number }) {
  const slots = Array.from({ length: Math.max(props.wanted, props.values.length) }, (_, index) => props.values[index]);
  return (
    <ol class="release-slots" aria-label="The times">
      {slots.map((value, index) => (
        <li key={index} class={value === undefined ? 'release-slot' : 'release-slot release-done'}>
          <span class="unseen">Number {index + 1}: </span>
          {value === undefined ? '–' : value === null ? 'missed' : `${numberWords(value, 2)} s`}
        </li>
      ))}
    </ol>
  );
}

/** Faster than anybody is: asks which of the two it was. */
function TooQuick(props: { readonly seconds: number | null; readonly onAgain: () => void; readonly onKeep: (seconds: number) => void }) {
  const { seconds, onAgain, onKeep } = props;
  return (
    <Dialog
      title="Too quick to be true"
      open={seconds !== null}
      mustChoose
      onClose={onAgain}
      actions={
        <>
          <Button kind="main" size="big" onPress={onAgain}>
            A double touch: do it again
          </Button>
          <Button size="big" onPress={() => onKeep(seconds ?? 0)}>
            It is right: keep it
          </Button>
        </>
      }
    >
      <p>{numberWords(seconds ?? 0, 2)} s is faster than a person can hear and let go.</p>
    </Dialog>
  );
}

function TooLong(props: { readonly open: boolean; readonly onAgain: () => void; readonly onMissed: () => void }) {
  return (
    <Dialog
      title="Nobody waits any longer"
      open={props.open}
      mustChoose
      onClose={props.onAgain}
      actions={
        <>
          <Button kind="main" size="big" onPress={props.onMissed}>
            It did not come: missed
          </Button>
          <Button size="big" onPress={props.onAgain}>
            I forgot to touch: do it again
          </Button>
        </>
      }
    >
      <p>Did it come?</p>
    </Dialog>
  );
}

/** Holding follows below once the last release that is wanted was timed here. */
function HoldBelow(props: { readonly view: VisitView; readonly done: number; readonly wanted: number }) {
  const [before] = useState(props.done);
  if (props.wanted === 0 || before >= props.wanted || props.done < props.wanted) return null;
  return (
    <section class="stack hold-below" aria-labelledby="hold-below">
      <h2 id="hold-below">{measureTitles.hold}</h2>
      <HoldScreen view={props.view} />
    </section>
  );
}

/** From a word to what it asks for, as often as the engine wants; the slowest counts. */
export function TimedScreen(props: { readonly view: VisitView; readonly timed: Timed }) {
  const { view, timed } = props;
  const place = placeOf(view.visit);
  const saver = useSave();
  const wanted = useLimits()?.get(timed.wanted) ?? 0;
  const { value: quick, set: setQuick } = useDraft<number | null>({ about: view.visit.id, name: `quick ${timed.what}` }, null);
  const { value: late, set: setLate } = useDraft({ about: view.visit.id, name: `late ${timed.what}` }, false);
  const readings = view.visit.readings.filter((reading) => reading.what === timed.what && reading.site === place.site);
  const standing = readings.filter((reading) => !reading.slip);
  const take = async (value: number, missed: boolean) => {
    if (saver.busy()) return false;
    const body: ReadingTaken = {
      what: timed.what,
      site: place.site,
      state: place.state,
      supported: place.supported,
      value,
      unit: 's',
      ...(missed ? { missed: true } : {}),
    };
    setQuick(null);
    setLate(false);
    return saver.save(missed ? `a missed ${timed.one}` : `${timed.one} ${value} s`, () => writeVisit(view.visit, 'reading-taken', body));
  };
  const stopped = async (seconds: number) => {
    if (seconds >= tooQuick) return take(seconds, false);
    setQuick(seconds);
    return true;
  };
  return (
    <div class="measure">
      <PlaceBar visit={view.visit} folded />
      {place.site === '' ? (
        <Banner tone="note">Choose the site first.</Banner>
      ) : (
        <>
          <p class="repeats-figures" role="status">
            {wanted === 0
              ? `${standing.length} ${timed.several}`
              : `${Math.min(standing.length, wanted)} of ${wanted} ${timed.several}${standing.length > wanted ? `, ${standing.length - wanted} more` : ''}`}
          </p>
          <Slots wanted={wanted} values={standing.map((reading) => (reading.missed ? null : reading.value))} />
          <GiantTimer
            which={{ about: view.visit.id, name: `${timed.what} ${place.site}`, title: `A ${timed.one}: the clock` }}
            startWords={timed.startWords}
            stopWords={timed.stopWords}
            heldWords={timed.heldWords}
            most={timed.most}
            onTimed={stopped}
            onTooLong={() => setLate(true)}
          />
          <div class="actions">
            <Button size="big" onPress={() => void take(0, true)}>
              It did not come: missed
            </Button>
          </div>
          <SavedLine state={saver.state} />
          <ControlInUse visit={view.visit} />
          <More summary="How to measure">
            <p>
              {timed.how} {wanted === 0 ? 'Several' : wanted} times; the slowest counts, a miss counts against it.
            </p>
          </More>
          <SlipHint readings={readings} />
          <ReadingList view={view} readings={readings} odd={new Set()} saver={saver} />
        </>
      )}
      {timed.what === 'release' ? <HoldBelow view={view} done={standing.length} wanted={wanted} /> : null}
      <TooQuick seconds={quick} onAgain={() => setQuick(null)} onKeep={(seconds) => void take(seconds, false)} />
      <TooLong open={late} onAgain={() => setLate(false)} onMissed={() => void take(0, true)} />
    </div>
  );
}
