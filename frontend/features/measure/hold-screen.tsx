import { Banner, More, SavedLine, useSave } from '../../ui';
import { useLimits } from '../../ui/limits';
import type { VisitView } from '../../lib';
import type { ReadingTaken } from '../../lib/model.gen';
import { writeVisit } from '../../lib/visit-writer';
import { GiantTimer } from './giant-timer';
import { ControlInUse } from '../../ui/visit/in-use';
import { placeOf } from './place';
import { PlaceBar } from './place-bar';
import { ReadingList, SlipHint } from './reading-list';

/** Longest time that a record takes; counting stops earlier, at the engine's own limit. */
const mostRecorded = 600;

/** How long the forward command is held steady. */
export function HoldScreen(props: { readonly view: VisitView }) {
  const { view } = props;
  const place = placeOf(view.visit);
  const saver = useSave();
  const mostCounted = useLimits()?.get('hold-counted') ?? mostRecorded;
  const readings = view.visit.readings.filter((reading) => reading.what === 'hold' && reading.site === place.site);
  const take = (seconds: number) => {
    const value = Math.round(seconds * 10) / 10;
    const body: ReadingTaken = {
      what: 'hold',
      site: place.site,
      direction: 'forward',
      state: place.state,
      supported: place.supported,
      value,
      unit: 's',
    };
    return saver.save(`forward held ${value} s`, () => writeVisit(view.visit, 'reading-taken', body));
  };
  return (
    <div class="measure">
      <PlaceBar visit={view.visit} folded />
      {place.site === '' ? (
        <Banner tone="note">Choose the site first.</Banner>
      ) : (
        <>
          <GiantTimer
            which={{ about: view.visit.id, name: `hold ${place.site}`, title: 'Holding: the clock' }}
            startWords="Touch when forward is held"
            stopWords="Touch when it drops"
            heldWords="Or hold this down for as long as forward is held"
            longerIsBetter
            most={mostCounted}
            onTimed={take}
          />
          <SavedLine state={saver.state} />
          <ControlInUse visit={view.visit} />
          <More summary="How to measure">
            <p>
              Forward, held steady with the force that the chosen control needs. Touch when it is reached, touch again when it drops.
              Counting stops by itself at {mostCounted} s. The shortest counts.
            </p>
          </More>
          <SlipHint readings={readings} />
          <ReadingList view={view} readings={readings} odd={new Set()} saver={saver} />
        </>
      )}
    </div>
  );
}
