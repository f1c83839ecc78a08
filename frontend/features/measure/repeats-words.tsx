import type { Standing } from './repeats';
import type { Slot } from './slots';

/** What the engine says of the readings, and what is still wanted; read out when it changes. */
export function RepeatsWords(props: { readonly standing: Standing | undefined; readonly slot: Slot }) {
  const { standing, slot } = props;
  return (
    <div class="repeats" role="status">
      <p class="repeats-figures">
        {slot.words}: {standing === undefined ? '…' : standing.sentence}
      </p>
      {standing?.more ? <p class="repeats-ask">The readings lie far apart. Rest two minutes, then one more, please.</p> : null}
      {standing !== undefined && standing.missing > 0 ? <p class="field-hint">{standing.missing} more wanted here.</p> : null}
    </div>
  );
}
