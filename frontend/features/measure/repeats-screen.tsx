import { useRef, useState } from 'preact/hooks';
import { Button, ButtonLink, More, numberWords, PadSettings, Segments } from '../../ui';
import { classLabel } from '../../ui/control-classes';
import { RoseTable } from '../../ui/rose/table';
import { RoseKey } from '../../ui/rose/key';
import { siteWords } from '../../ui/sites';
import { links } from '../../ui/visit/links';
import { NoSwitch } from '../../ui/visit/no-switch';
import type { VisitView } from '../../lib';
import type { Rose, Visit } from '../../lib/model.gen';
import { Cross } from './cross';
import { MinuteClock } from './minute-clock';
import { PadPart } from './pad-part';
import { PlaceColumn } from './place-column';
import { ReadingList } from './reading-list';
import { RepeatsTable, RepeatsWords } from './repeats-table';
import { RosePicker } from './rose-picker';
import { counted, readingsIn, type Measurement, type Slot } from './slots';
import { useRose, useStandings } from './use-engine';
import { useRepeats, type Repeats } from './use-repeats';

const turns: Readonly<Record<string, number>> = { forward: 0, right: 90, reverse: 180, left: 270 };

function Arrow(props: { readonly direction: string }) {
  const turn = turns[props.direction];
  return (
    <svg class="now-arrow" viewBox="0 0 40 40" aria-hidden="true" focusable="false">
      <circle cx="20" cy="20" r="19" />
      {turn === undefined ? (
        <circle class="now-dot" cx="20" cy="20" r="7" />
      ) : (
        <path d="M20 30V10M11 18l9-9 9 9" transform={`rotate(${turn} 20 20)`} />
      )}
    </svg>
  );
}

/** What the next number is, in words that are read at arm's length. */
function NowWords(props: { readonly repeats: Repeats; readonly current: Slot }) {
  const { place } = props.repeats;
  return (
    <p class="now" role="status">
      <span class="now-where">
        {place.site === '' ? 'No site yet' : siteWords(place.site)}, <strong>{place.state}</strong>
      </span>
      <span class="now-what">
        {props.current.direction === '' || props.current.switch ? null : <Arrow direction={props.current.direction} />}
        {props.current.words}
      </span>
    </p>
  );
}

function StateToggle(props: { readonly repeats: Repeats }) {
  const { repeats } = props;
  return (
    <div class="place-toggles">
      <Segments
        big
        legend="The person is"
        legendHidden
        value={repeats.place.state}
        options={[
          { value: 'rested', label: 'Rested' },
          { value: 'tired', label: 'Tired' },
        ]}
        onChange={(value) => repeats.setPlace({ state: value === 'tired' ? 'tired' : 'rested' })}
      />
    </div>
  );
}

/** Which control the ring is of, and the way to choose another. */
function ControlOfRing(props: { readonly visit: Visit; readonly rose: Rose | null }) {
  const { setup } = props.visit;
  const asked = props.rose?.arms.find((arm) => arm.asked !== undefined)?.asked;
  return (
    <ButtonLink href={links.setup(props.visit.id)} size="big" class="rose-control">
      {setup === undefined ? (
        'Choose a control to see what it asks'
      ) : (
        <span>
          {setup.control || classLabel(setup.class)}
          <small>{asked === undefined ? 'what it asks is not entered' : `asks ${numberWords(asked)} ${props.rose?.unit ?? ''}`}</small>
        </span>
      )}
    </ButtonLink>
  );
}

function Picture(props: { readonly repeats: Repeats; readonly measurement: Measurement; readonly current: Slot }) {
  const { repeats, measurement, current } = props;
  const { visit, place, unit, counts, wanted } = repeats;
  const [table, setTable] = useState(false);
  const readings = visit.readings.filter((reading) => reading.what === measurement.what && reading.site === place.site && !reading.slip);
  const rose = useRose({
    what: measurement.what,
    site: place.site,
    supported: place.supported,
    unit,
    readings: readings.map(({ what, site, direction, state, switch: purpose, supported, value, unit: of }) => ({
      what,
      site,
      state,
      supported,
      value,
      unit: of,
      ...(direction ? { direction } : {}),
      ...(purpose ? { switch: purpose } : {}),
    })),
    ...(visit.setup ? { setup: visit.setup } : {}),
  });
  const switches = measurement.what === 'switch-force';
  const words = (id: string) => measurement.slots.find((slot) => (switches ? (slot.switch ?? 'both') : slot.id) === id)?.words ?? id;
  const caption = `${place.site === '' ? 'No site' : siteWords(place.site)}, ${place.supported ? 'supported' : 'not supported'}`;
  return (
    <>
      <RosePicker
        legend={switches ? 'Switch' : 'Direction'}
        rose={rose ?? { unit, arms: measurement.slots.map((slot) => ({ id: switches ? (slot.switch ?? 'both') : slot.id })) }}
        slots={measurement.slots}
        value={current.id}
        wanted={wanted}
        counts={counts}
        switches={switches}
        onChange={repeats.choose}
      />
      <div class="rose-foot">
        <RoseKey />
        <ControlOfRing visit={visit} rose={rose} />
        <Button size="big" pressed={table} onPress={() => setTable(!table)}>
          Table
        </Button>
      </div>
      {rose === null ? null : <RoseTable rose={rose} caption={caption} words={words} unseen={!table} />}
    </>
  );
}

/** Occasions that have no direction, each to be touched. */
function Occasions(props: { readonly repeats: Repeats; readonly measurement: Measurement; readonly current: Slot }) {
  const { repeats, measurement } = props;
  return (
    <>
      <Cross
        legend="What"
        slots={measurement.slots}
        value={props.current.id}
        wanted={repeats.wanted}
        needed={[]}
        doneIn={(slot) => repeats.counts[slot.id] ?? 0}
        onChange={repeats.choose}
      />
      {props.current.minute ? <MinuteClock key={props.current.id} visit={repeats.visit.id} occasion={props.current.id} /> : null}
      <RepeatsTable visit={repeats.visit} measurement={measurement} place={repeats.place} unit={repeats.unit} decimals={repeats.decimals} />
    </>
  );
}

const drawn: readonly string[] = ['force', 'travel', 'switch-force'];

/** Readings with repeats: force, travel, unintended force, switch force. */
export function RepeatsScreen(props: { readonly view: VisitView; readonly measurement: Measurement }) {
  const { view, measurement } = props;
  const leaving = useRef(() => {});
  const { choose, setPlace, ...others } = useRepeats(view, measurement);
  const repeats: Repeats = {
    ...others,
    choose: (slot) => {
      leaving.current();
      choose(slot);
    },
    setPlace: (part) => {
      leaving.current();
      setPlace(part);
    },
  };
  const { current, visit, place, unit } = repeats;
  const readings = current === undefined ? [] : readingsIn(visit, measurement.what, place, current);
  const [standing] = useStandings([{ what: measurement.what, unit, values: counted(readings) }]);
  if (current === undefined) return null;
  const counting = readings.filter((reading) => !reading.slip);
  const odd = new Set((standing?.odd ?? []).flatMap((at) => counting[at]?.ref ?? []));
  const Drawing = drawn.includes(measurement.what) ? Picture : Occasions;
  return (
    <div class="measure measure-take">
      <div class={place.site === '' ? 'measure-columns measure-unplaced' : 'measure-columns'}>
        <div class="measure-place">
          <PlaceColumn visit={visit} place={place} what={measurement.what} onChange={repeats.setPlace} />
        </div>
        <div class="measure-rose">
          <Drawing repeats={repeats} measurement={measurement} current={current} />
        </div>
        <div class="measure-now">
          <div class="now-line">
            <NowWords repeats={repeats} current={current} />
            <StateToggle repeats={repeats} />
            {measurement.what === 'switch-force' ? <NoSwitch view={view} /> : null}
          </div>
        </div>
        <div class="measure-pad">
          <PadPart repeats={repeats} measurement={measurement} current={current} standing={standing} leaving={leaving} />
        </div>
        <div class="measure-list">
          <RepeatsWords standing={standing} slot={current} />
          <ReadingList view={view} readings={readings} odd={odd} saver={repeats.saver} />
          <More summary="How to measure">
            <p>
              {measurement.intro}
              {measurement.force ? ` The unit is ${unit} for the whole visit.` : ''} A gauge or a keypad can type: Enter keeps, and so does
              a swipe over the keys.
            </p>
            <PadSettings />
          </More>
        </div>
      </div>
    </div>
  );
}
