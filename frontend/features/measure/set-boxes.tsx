import { numberWords } from '../../ui';
import type { Reading } from '../../lib/model.gen';

/** The readings of the set that stand, each to be touched to be moved or set aside. */
export function TakenBoxes(props: {
  readonly readings: readonly Reading[];
  /** Refs of readings that differ much from the others. */
  readonly odd: ReadonlySet<string>;
  readonly chosen: string;
  readonly onChoose: (ref: string) => void;
}) {
  return (
    <>
      {props.readings.map((reading, i) => {
        const chosen = reading.ref === props.chosen;
        const odd = props.odd.has(reading.ref);
        return (
          <button
            key={reading.ref}
            type="button"
            class={`set-box set-taken${odd ? ' set-odd' : ''}`}
            aria-pressed={chosen}
            aria-label={`Reading ${i + 1}: ${numberWords(reading.value)} ${reading.unit}${odd ? ', differs much from the others' : ''}. Move or set aside`}
            onMouseDown={(event) => event.preventDefault()}
            onClick={() => props.onChoose(chosen ? '' : reading.ref)}
          >
            {numberWords(reading.value)}
          </button>
        );
      })}
    </>
  );
}

const ordinals = ['1st', '2nd', '3rd'];

/** Boxes of readings that are still wanted after the one that is being typed. */
export function WantedBoxes(props: { readonly done: number; readonly wanted: number }) {
  const { done, wanted } = props;
  return (
    <>
      {Array.from({ length: Math.max(0, wanted - done - 1) }, (_, i) => (
        <span key={i} class="set-box set-wanted" aria-hidden="true">
          {ordinals[done + i + 1] ?? `${done + i + 2}th`}
        </span>
      ))}
    </>
  );
}
