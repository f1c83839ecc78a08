import { effects, type EffectId } from '../lib/model.gen';

const words: Readonly<Record<EffectId, string>> = {
  stop: 'No driving',
  'stop-control': 'Not with this control',
  'stop-vehicle': 'Not seated in a vehicle',
  'limit:practise': 'Held at Practise',
  'limit:accompanied': 'Held at Accompanied',
  'limit:home-ground': 'Held at Home ground',
};

/** The word for an effect id; an id from a later version is shown as it is. */
export function effectWord(effect: string): string {
  const known = effects.find((one) => one === effect);
  return known ? words[known] : effect;
}

/** An effect as a word in a heavy frame: filled for a stop, open for a limit. */
export function EffectMark(props: { readonly effect: string; readonly count?: number | undefined }) {
  const look = props.effect.startsWith('stop') ? 'effect effect-stop' : 'effect effect-limit';
  return (
    <span class={look}>
      {effectWord(props.effect)}
      {props.count && props.count > 1 ? `: ${props.count}` : ''}
    </span>
  );
}
