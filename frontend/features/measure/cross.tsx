import { useId } from 'preact/hooks';
import { Input } from '../../ui/inputs';
import type { Slot } from './slots';

const turns: Readonly<Record<string, number>> = { forward: 0, right: 90, reverse: 180, left: 270 };

function Arrow(props: { readonly direction: string }) {
  const turn = turns[props.direction];
  return (
    <svg class="cross-arrow" viewBox="0 0 24 24" aria-hidden="true" focusable="false">
      {turn === undefined ? (
        <circle cx="12" cy="12" r="6" fill="currentColor" />
      ) : (
        <path d="M12 3l8 9h-5v9H9v-9H4z" fill="currentColor" transform={`rotate(${turn} 12 12)`} />
      )}
    </svg>
  );
}

function Circles(props: { readonly done: number; readonly wanted: number }) {
  const shown = Math.max(props.wanted, props.done);
  return (
    <span class="cross-circles" aria-hidden="true">
      {Array.from({ length: shown }, (_, index) => (
        <span key={index} class={index < props.done ? 'circle circle-full' : index === props.done ? 'circle circle-next' : 'circle'} />
      ))}
    </span>
  );
}

/** The directions as a cross, or the occasions as a row, each with a circle for every reading wanted. */
export function Cross(props: {
  readonly legend: string;
  readonly slots: readonly Slot[];
  readonly value: string;
  readonly doneIn: (slot: Slot) => number;
  readonly wanted: number;
  /** Ids that the chosen control needs; they are marked. */
  readonly needed: readonly string[];
  readonly onChange: (id: string) => void;
}) {
  const name = useId();
  const crossed = props.slots.length > 3;
  return (
    <fieldset class={crossed ? 'cross' : 'cross cross-row'}>
      <legend class="field-label">{props.legend}</legend>
      <div class="cross-arms">
        {props.slots.map((slot) => {
          const done = props.doneIn(slot);
          const needed = props.needed.includes(slot.id);
          return (
            <label key={slot.id} class={`cross-arm cross-${slot.id}${slot.id === props.value ? ' cross-on' : ''}`}>
              <Input type="radio" name={name} value={slot.id} checked={slot.id === props.value} onChange={() => props.onChange(slot.id)} />
              {slot.direction === '' ? null : <Arrow direction={slot.direction} />}
              <span class="cross-word">{slot.words}</span>
              <Circles done={done} wanted={props.wanted} />
              <span class="unseen">
                {done} of {props.wanted} readings
              </span>
              {needed ? <span class="cross-needed">needed</span> : null}
            </label>
          );
        })}
      </div>
    </fieldset>
  );
}
