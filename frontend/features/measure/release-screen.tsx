import { useState } from 'preact/hooks';
import { Banner, Button, Dialog, More, SavedLine, numberWords, useSave } from '../../ui';
import { useLimits } from '../../ui/limits';
import type { VisitView } from '../../lib';
import type { ReadingTaken } from '../../lib/model.gen';
import { writeVisit } from '../../lib/visit-writer';
import { GiantTimer } from './giant-timer';
import { ControlInUse } from '../../ui/visit/in-use';
import { placeOf } from './place';
import { PlaceBar } from './place-bar';
import { ReadingList } from './reading-list';

/** Seconds after which nobody waits any longer. */
const most = 20;
/** Faster than a person can hear and move: the button was touched twice. */
const tooQuick = 0.15;

function Slots(props: { readonly values: readonly (number | null)[]; readonly wanted: number }) {
  const slots = Array.from({ length: Math.max(props.wanted, props.values.length) }, (_, index) => props.values[index]);
  return (
    <ol class="release-slots" aria-label="The releases">
      {slots.map((value, index) => (
        <li key={index} class={value === undefined ? 'release-slot' : 'release-slot release-done'}>
          <span class="unseen">Release {index + 1}: </span>
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
      title="Twenty seconds have passed"
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
      <p>Did the control come back to the middle?</p>
    </Dialog>
  );
}

/** From the word "stop" to the control back in the middle, as often as the engine wants; the slowest counts. */
export function ReleaseScreen(props: { readonly view: VisitView }) {
  const { view } = props;
  const place = placeOf(view.visit);
  const saver = useSave();
  const wanted = useLimits()?.get('releases-wanted') ?? 0;
  const [quick, setQuick] = useState<number | null>(null);
  const [late, setLate] = useState(false);
  const readings = view.visit.readings.filter((reading) => reading.what === 'release' && reading.site === place.site);
  const standing = readings.filter((reading) => !reading.slip);
  const take = (value: number, missed: boolean) => {
    if (saver.busy()) return;
    const body: ReadingTaken = {
      what: 'release',
      site: place.site,
      state: place.state,
      supported: place.supported,
      value,
      unit: 's',
      ...(missed ? { missed: true } : {}),
    };
    setQuick(null);
    setLate(false);
    void saver.save(missed ? 'a missed release' : `release ${value} s`, () => writeVisit(view.visit, 'reading-taken', body));
  };
  const timed = (seconds: number) => (seconds < tooQuick ? setQuick(seconds) : take(seconds, false));
  return (
    <div class="measure">
      <PlaceBar visit={view.visit} folded />
      {place.site === '' ? (
        <Banner tone="note">Choose the site first.</Banner>
      ) : (
        <>
          <p class="repeats-figures" role="status">
            {wanted === 0
              ? `${standing.length} releases`
              : `${Math.min(standing.length, wanted)} of ${wanted} releases${standing.length > wanted ? `, ${standing.length - wanted} more` : ''}`}
          </p>
          <Slots wanted={wanted} values={standing.map((reading) => (reading.missed ? null : reading.value))} />
          <GiantTimer
            startWords="Touch at “stop!”"
            stopWords="Touch when it is in the middle"
            most={most}
            onTimed={timed}
            onTooLong={() => setLate(true)}
          />
          <div class="actions">
            <Button size="big" onPress={() => take(0, true)}>
              It did not come: missed
            </Button>
          </div>
          <SavedLine state={saver.state} />
          <ControlInUse visit={view.visit} />
          <More summary="How to measure">
            <p>
              While the person drives or holds a command, call “stop!” without warning and touch the button. Touch again when the control is
              back in the middle. {wanted === 0 ? 'Several' : wanted} times; the slowest counts, a miss counts against it.
            </p>
          </More>
          <ReadingList view={view} readings={readings} odd={new Set()} saver={saver} />
        </>
      )}
      <TooQuick seconds={quick} onAgain={() => setQuick(null)} onKeep={(seconds) => take(seconds, false)} />
      <TooLong open={late} onAgain={() => setLate(false)} onMissed={() => take(0, true)} />
    </div>
  );
}
