import { numberWords } from '../parts';
import type { VisitView } from '../store';
import type { MeasurePlace } from './place';
import { siteWords } from './sites';
import { counted, readingsIn, type Measurement, type Slot } from './slots';
import { mean, spreadPercent } from './spread';

/** All readings of the site side by side: each direction, rested and tired, with the present support. */
export function RepeatsTable(props: {
  readonly view: VisitView;
  readonly measurement: Measurement;
  readonly place: MeasurePlace;
  readonly unit: string;
}) {
  const { view, measurement, place, unit } = props;
  if (place.site === '') return null;
  const cell = (slot: Slot, state: 'rested' | 'tired') => {
    const values = counted(readingsIn(view.visit, measurement.what, { ...place, state }, slot));
    const spread = spreadPercent(values);
    if (values.length === 0) return '–';
    return `${numberWords(mean(values), 2)} (${values.length}${spread === null ? '' : `; ${numberWords(spread, 0)} %`})`;
  };
  return (
    <div class="table-wrap" tabIndex={0} role="region" aria-label="All readings of this site">
      <table class="table">
        <caption>{siteWords(place.site)}, {place.supported ? 'supported' : 'not supported'}: mean in {unit} (readings; spread)</caption>
        <thead><tr><th scope="col">{measurement.slots.length > 3 ? 'Direction' : 'What'}</th><th scope="col">Rested</th><th scope="col">Tired</th></tr></thead>
        <tbody>
          {measurement.slots.map((slot) => (
            <tr key={slot.id}><th scope="row">{slot.words}</th><td>{cell(slot, 'rested')}</td><td>{cell(slot, 'tired')}</td></tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
