import { useId } from 'preact/hooks';
import { useMedia } from '../../ui/viewport';
import { Input } from '../../ui/inputs';
import { Bank } from '../../ui/rose/bank-drawing';
import { hitOf, type Hit } from '../../ui/rose/hits';
import { frameOf } from '../../ui/rose/parts';
import { Rose } from '../../ui/rose/rose';
import { roseWords } from '../../ui/rose/table';
import type { Rose as Figures } from '../../lib/model.gen';
import type { Slot } from './slots';

const percent = (value: number) => `${value}%`;

/** The arm of the drawing for each slot, and the other way round. */
const armOf = (slot: Slot) => slot.switch ?? (slot.id === 'press' ? 'both' : slot.id);

/** The drawing of what was measured, in which the direction or the switch to measure is touched. */
export function RosePicker(props: {
  readonly legend: string;
  readonly rose: Figures;
  readonly slots: readonly Slot[];
  readonly value: string;
  readonly wanted: number;
  readonly counts: Readonly<Record<string, number>>;
  readonly switches: boolean;
  readonly onChange: (slot: string) => void;
}) {
  const { slots, value, switches } = props;
  const name = useId();
  const small = useMedia('(max-width: 75rem)');
  const ids = (slot: Slot) => (switches ? armOf(slot) : slot.id);
  const words = (id: string) => slots.find((slot) => ids(slot) === id)?.words ?? id;
  const chosen = slots.find((slot) => slot.id === value);
  const look = { chosen: chosen ? ids(chosen) : '', words, wanted: props.wanted, small };
  const label = roseWords(props.rose, words);
  const hit = (slot: Slot, i: number): Hit | undefined =>
    switches
      ? { left: (100 * i) / slots.length, top: 0, width: 100 / slots.length, height: 100 }
      : hitOf(slot.id, frameOf(props.rose, look));
  return (
    <fieldset class="rose-pick">
      <legend class="unseen">{props.legend}</legend>
      {switches ? <Bank rose={props.rose} label={label} {...look} /> : <Rose rose={props.rose} label={label} {...look} />}
      {slots.map((slot, i) => {
        const at = hit(slot, i);
        if (at === undefined) return null;
        const needed = props.rose.arms.find((arm) => arm.id === ids(slot))?.needed === true;
        return (
          <label
            key={slot.id}
            class={`rose-way rose-way-${slot.id}`}
            style={{ left: percent(at.left), top: percent(at.top), width: percent(at.width), height: percent(at.height) }}
          >
            <Input type="radio" name={name} value={slot.id} checked={slot.id === value} onChange={() => props.onChange(slot.id)} />
            <span class="unseen">
              {slot.words}, {props.counts[slot.id] ?? 0} of {props.wanted} readings{needed ? ', needed' : ''}
            </span>
          </label>
        );
      })}
    </fieldset>
  );
}
