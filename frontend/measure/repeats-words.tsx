import { numberWords } from '../parts';
import type { Measurement, Slot } from './slots';
import { judgeRepeats } from './spread';
import { forceUnit } from './units';

/** Mean, spread and what is still wanted, read out when it changes. */
export function RepeatsWords(props: {
  readonly values: readonly number[];
  readonly slot: Slot;
  readonly measurement: Measurement;
  readonly unit: string;
}) {
  const { slot, unit, measurement } = props;
  const repeats = judgeRepeats(props.values, forceUnit(unit), measurement.wanted);
  return (
    <div class="repeats" role="status">
      <p class="repeats-figures">
        {slot.words}: {repeats.mean === null ? 'no reading yet' : `mean ${numberWords(repeats.mean, 2)} ${unit}`}
        {repeats.spread === null || !measurement.force ? '' : `, spread ${numberWords(repeats.spread, 0)} %`}
      </p>
      {repeats.oneMore && measurement.force ? <p class="repeats-ask">The readings lie far apart. Rest two minutes, then one more, please.</p> : null}
      {repeats.missing > 0 ? <p class="field-hint">{repeats.missing} more wanted here.</p> : null}
    </div>
  );
}
