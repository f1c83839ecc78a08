import { useEffect, useState } from 'preact/hooks';
import { createGate, Pad, SavedLine, readNumber, useDraft, useSave } from '../../ui';
import { usePlace } from '../../ui/address';
import { judge, type Asked } from '../../ui/judge';
import { useLimits } from '../../ui/limits';
import { siteWords } from '../../ui/sites';
import { convertForces, plausible, type VisitView } from '../../lib';
import { directions, type ReadingTaken } from '../../lib/model.gen';
import { writeVisit } from '../../lib/visit-writer';
import { Cross } from './cross';
import { placeOf, type MeasurePlace } from './place';
import { PlaceBar } from './place-bar';
import { PlausibleDialog } from './plausible-dialog';
import { ReadingList } from './reading-list';
import { RepeatsTable, RepeatsWords } from './repeats-table';
import { counted, nextDirection, readingsIn, unitOf, wantedOf, type Measurement, type Slot } from './slots';
import { useStandings } from './use-engine';

/** Counts of the readings that stand, by slot. */
function countsOf(view: VisitView, measurement: Measurement, place: MeasurePlace): Readonly<Record<string, number>> {
  return Object.fromEntries(
    measurement.slots.map((slot) => [slot.id, counted(readingsIn(view.visit, measurement.what, place, slot)).length]),
  );
}

function orderOf(view: VisitView, measurement: Measurement): readonly string[] {
  const needed = view.visit.setup?.needed ?? [];
  const ways = measurement.slots.map((slot) => slot.id);
  if (measurement.what === 'switch-force') return ways.slice(0, 1);
  if (measurement.slots.length <= 3) return ways;
  const wanted = needed.length > 0 ? needed : directions;
  return wanted.filter((id) => ways.includes(id));
}

function useRepeats(view: VisitView, measurement: Measurement) {
  const place = placeOf(view.visit);
  const { unit, decimals } = unitOf(measurement, view.visit);
  const order = orderOf(view, measurement);
  const counts = countsOf(view, measurement, place);
  const wanted = wantedOf(measurement, useLimits());
  const asked = usePlace().query.direction;
  const { value: chosen, set: setChosen } = useDraft({ about: view.visit.id, name: `direction ${measurement.what}` }, '');
  useEffect(() => {
    if (asked) setChosen(asked);
  }, [asked]);
  const saver = useSave();
  const first = order.find((id) => (counts[id] ?? 0) < wanted) ?? order[0] ?? '';
  const current =
    measurement.slots.find((slot) => slot.id === chosen) ?? measurement.slots.find((slot) => slot.id === first) ?? measurement.slots[0];
  const take = async (slot: Slot, value: number): Promise<boolean> => {
    const body: ReadingTaken = {
      what: measurement.what,
      site: place.site,
      state: place.state,
      supported: place.supported,
      value,
      unit,
      ...(slot.direction === '' ? {} : { direction: slot.direction }),
      ...(slot.switch ? { switch: slot.switch } : {}),
      ...(slot.note === '' ? {} : { note: slot.note }),
    };
    const done = await saver.save(`${slot.words} ${value} ${unit}`, () => writeVisit(view.visit, 'reading-taken', body));
    if (done) setChosen(nextDirection(order, { ...counts, [slot.id]: (counts[slot.id] ?? 0) + 1 }, slot.id, wanted));
    return done;
  };
  return { place, unit, decimals, counts, wanted, current, saver, setChosen, take };
}

/** What stands on the pad, and the question about it that waits for an answer. */
function usePadDrafts(visit: string, what: string) {
  const pad = useDraft({ about: visit, name: `pad ${what}`, title: 'A reading that is being typed' }, '');
  const asked = useDraft<(Asked & { readonly typed: string }) | null>({ about: visit, name: `asked ${what}` }, null);
  return { pad, asked };
}

/** Readings with repeats: force, travel, unintended force, switch force. */
export function RepeatsScreen(props: { readonly view: VisitView; readonly measurement: Measurement }) {
  const { view, measurement } = props;
  const { place, unit, decimals, counts, wanted, current, saver, setChosen, take } = useRepeats(view, measurement);
  const { pad, asked } = usePadDrafts(view.visit.id, measurement.what);
  const { value: typed, set: setTyped } = pad;
  const [error, setError] = useState<string | undefined>(undefined);
  const [oneAtATime] = useState(createGate);
  const readings = current === undefined ? [] : readingsIn(view.visit, measurement.what, place, current);
  const [standing] = useStandings([{ what: measurement.what, unit, values: counted(readings) }]);
  if (current === undefined) return null;
  const counting = readings.filter((reading) => !reading.slip);
  const odd = new Set((standing?.odd ?? []).flatMap((at) => counting[at]?.ref ?? []));
  const keep = async (value: number, from: string) => {
    asked.set(null);
    // What was typed meanwhile is the next reading.
    if (await take(current, value)) setTyped((now) => (now === from ? '' : now));
  };
  const enter = async () => {
    const read = readNumber(typed, decimals);
    if (place.site === '') return setError('Choose the site first.');
    if (read.kind === 'wrong') return setError(read.message);
    if (read.kind === 'blank') return setError(`Expected a number in ${unit}. 0 means tried and none.`);
    const judged = await judge({ what: measurement.what, site: place.site, unit }, read.value, { plausible, convert: convertForces });
    if (judged.kind === 'refuse') return setError(judged.sentence);
    if (judged.kind === 'ask') return asked.set({ ...judged.asked, typed });
    return keep(read.value, typed);
  };
  const number = (counts[current.id] ?? 0) + 1;
  return (
    <div class="measure">
      <div class="measure-columns">
        <div class="measure-place">
          <PlaceBar visit={view.visit} />
        </div>
        <div class="measure-cross">
          <Cross
            legend={measurement.slots.length > 3 ? 'Direction' : 'What'}
            slots={measurement.slots}
            value={current.id}
            wanted={wanted}
            needed={view.visit.setup?.needed ?? []}
            doneIn={(slot) => counts[slot.id] ?? 0}
            onChange={setChosen}
          />
          <RepeatsWords standing={standing} slot={current} />
        </div>
        <div class="measure-pad">
          <Pad
            label={`${current.words}, reading ${number}${number <= wanted ? ` of ${wanted}` : ''}${place.site === '' ? '' : `, ${siteWords(place.site)}`}`}
            value={typed}
            unit={unit}
            decimals={decimals}
            error={error}
            doneLabel="Save reading"
            onChange={(text) => {
              setTyped(text);
              setError(undefined);
            }}
            onDone={() => void oneAtATime(enter)}
          />
          <SavedLine state={saver.state} />
          <p class="field-hint">
            {measurement.intro}
            {measurement.force ? ` The unit is ${unit} for the whole visit.` : ''}
          </p>
        </div>
        <div class="measure-list">
          <ReadingList view={view} readings={readings} odd={odd} saver={saver} />
        </div>
      </div>
      <RepeatsTable view={view} measurement={measurement} place={place} unit={unit} decimals={decimals} />
      <PlausibleDialog
        asked={asked.value}
        unit={unit}
        onTake={(value) => void oneAtATime(() => keep(value, asked.value?.typed ?? ''))}
        onAgain={() => asked.set(null)}
      />
    </div>
  );
}
