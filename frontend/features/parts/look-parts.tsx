import { EffectMark, LevelDoor } from '../../ui';
import { Icon, iconNames } from '../../ui/icon';
import { PartMark, type PartState } from '../../ui/part-mark';
import { effects, levels } from '../../lib/model.gen';
import { Shelf } from './shelf';

const sizes = ['xs', 's', 'm', 'l', 'xl', 'xxl'] as const;
const surfaces = ['paper', 'surface', 'raised', 'accent-wash', 'clay-wash'] as const;
const marks: readonly (readonly [PartState, string, number])[] = [
  ['none', 'not begun', 0],
  ['some', 'a third', 1 / 3],
  ['some', 'nearly all', 0.9],
  ['all', 'all answered', 1],
  ['choice', 'needs a choice', 0.5],
  ['stop', 'a stop is open', 0.5],
];

/** What is looked at: type, surfaces, drawings. */
export function LookParts() {
  return (
    <>
      <Shelf title="Type">
        {sizes.map((size) => (
          <span key={size} class={`parts-text-${size}`}>
            Ten metres in a lane, 0123456789
          </span>
        ))}
        <span class="parts-heading">Reversing straight, Łódź, Ølve, Señora</span>
        <span class="quiet-line">Quiet: three metres in a straight line</span>
      </Shelf>
      <Shelf title="Surfaces">
        {surfaces.map((surface) => (
          <span key={surface} class={`parts-surface parts-${surface}`}>
            {surface}
          </span>
        ))}
      </Shelf>
      <Shelf title="Icons">
        {iconNames.map((name) => (
          <span key={name} class="parts-icon">
            <Icon name={name} />
            {name}
          </span>
        ))}
      </Shelf>
      <Shelf title="How far a part is">
        {marks.map(([state, words, share]) => (
          <span key={words} class="parts-icon">
            <PartMark state={state} share={share} />
            {words}
          </span>
        ))}
      </Shelf>
      <Shelf title="Stop and limit">
        {effects.map((effect) => (
          <EffectMark key={effect} effect={effect} count={effect === 'stop' ? 2 : 1} />
        ))}
        <span class="effect effect-choice">Needs your choice</span>
      </Shelf>
      <Shelf title="Levels">
        {levels.map((level) => (
          <LevelDoor key={level} level={level} interim={level === 'practise'} provisional={level === 'practise'} />
        ))}
        <LevelDoor level="accompanied" size="large" />
        <LevelDoor level="home-ground" size="small" />
      </Shelf>
    </>
  );
}
