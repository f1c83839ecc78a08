import { numberWords } from '../../ui';
import { siteWords } from '../../ui/sites';
import { sentenceOf } from '../../ui/words';
import { fatigueStates, type SeriesSummary, type Visit } from '../../lib/model.gen';
import type { MeasurePlace } from './place';
import { type Slot, counted, readingsIn, type Measurement } from './slots';
import { useStandings } from './use-engine';

function cellWords(standing: SeriesSummary | undefined, decimals: number): string {
  if (standing === undefined) return '…';
  if (standing.value === undefined) return '–';
  return `${numberWords(standing.value, decimals)} (${standing.count}${standing.spread === undefined ? '' : `; ${numberWords(standing.spread, 0)} %`})`;
}

/** All readings of the site side by side: each direction, rested and tired, with the present support. */
export function RepeatsTable(props: {
  readonly visit: Visit;
  readonly measurement: Measurement;
  readonly place: MeasurePlace;
  readonly unit: string;
  readonly decimals: number;
}) {
  const { visit, measurement, place, unit } = props;
  const { slots, what } = measurement;
  const standings = useStandings(
    slots.flatMap((slot) =>
      fatigueStates.map((state) => ({ what, unit, values: counted(readingsIn(visit, what, { ...place, state }, slot)) })),
    ),
  );
  if (place.site === '') return null;
  return (
    <div class="table-wrap" tabIndex={0} role="region" aria-label="All readings of this site">
      <table class="table">
        <caption>
          {siteWords(place.site)}, {place.supported ? 'supported' : 'not supported'}: {what === 'unintended' ? 'largest' : 'mean'} in {unit}{' '}
          (readings{measurement.repeated ? '; spread' : ''})
        </caption>
        <thead>
          <tr>
            <th scope="col">{slots.length > 3 ? 'Direction' : 'What'}</th>
            <th scope="col">Rested</th>
            <th scope="col">Tired</th>
          </tr>
        </thead>
        <tbody>
          {slots.map((slot, row) => (
            <tr key={slot.id}>
              <th scope="row">{slot.words}</th>
              {fatigueStates.map((state, column) => (
                <td key={state}>{cellWords(standings[row * fatigueStates.length + column], props.decimals)}</td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** What the engine says of the readings, and how many are still wanted; read out when it changes. */
export function RepeatsWords(props: { readonly standing: SeriesSummary | undefined; readonly slot: Slot }) {
  const { standing, slot } = props;
  return (
    <div class="repeats" role="status">
      <p class="repeats-figures">
        {slot.words}: {standing === undefined ? '…' : sentenceOf(standing.message)}
      </p>
      {standing !== undefined && standing.wanted > 0 ? <p class="field-hint">{standing.wanted} more wanted here.</p> : null}
    </div>
  );
}
