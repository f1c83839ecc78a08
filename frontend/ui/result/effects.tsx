import { EffectMark, Sentence } from '..';
import { Part } from '../part';
import type { RaisedEffect, Result } from '../../lib/model.gen';
import { sentenceOf } from '../words';
import type { Titles } from './titles';
import { isStop } from './words';

/** Where an item can be answered, or nothing when the visit is not on this tablet. */
export type HrefOf = (item: string) => string | undefined;

interface EffectsProps {
  readonly result: Result;
  readonly titles: Titles;
  readonly hrefOf: HrefOf;
}

/** What forbids driving, before any number. */
export function Stops(props: EffectsProps) {
  const stops = props.result.effects.filter((effect) => isStop(effect.effect));
  return (
    <Part title="What forbids driving" class="part-stops">
      {stops.length === 0 ? <p>Nothing found so far forbids driving.</p> : <EffectList {...props} effects={stops} />}
    </Part>
  );
}

/** Limits, each with the level that it holds. */
export function Limits(props: EffectsProps) {
  const limits = props.result.effects.filter((effect) => !isStop(effect.effect));
  if (limits.length === 0) return null;
  return (
    <Part title="Limits">
      <EffectList {...props} effects={limits} />
    </Part>
  );
}

function EffectList(props: EffectsProps & { readonly effects: readonly RaisedEffect[] }) {
  return (
    <ul class="plain-list">
      {props.effects.map((effect) => {
        const title = props.titles.item(effect.item)?.title ?? effect.item;
        // A place of the home raises it, and no answer.
        const href = effect.place ? undefined : props.hrefOf(effect.item);
        return (
          <li key={`${effect.effect} ${effect.place ?? effect.item}`}>
            <Sentence
              mark={<EffectMark effect={effect.effect} />}
              text={sentenceOf(effect.message)}
              href={href}
              linkLabel={`Answer again: ${title}`}
            />
          </li>
        );
      })}
    </ul>
  );
}
