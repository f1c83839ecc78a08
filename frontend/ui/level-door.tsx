import { levels, type LevelId } from '../lib/model.gen';

interface LevelLook {
  readonly word: string;
  readonly door: string;
  /** Where the door's free edge stands, as a part of the doorway's width from the hinge; null while nobody knows. */
  readonly edge: number | null;
  /** How far the free edge leans towards us, 0 to 1. */
  readonly lean: number;
}

const looks: Readonly<Record<LevelId, LevelLook>> = {
  none: { word: 'No level yet', door: 'door not hung yet', edge: null, lean: 0 },
  pause: { word: 'Pause', door: 'door shut', edge: 1, lean: 0 },
  practise: { word: 'Practise', door: 'door ajar', edge: 0.78, lean: 0.5 },
  accompanied: { word: 'Accompanied', door: 'door half open', edge: 0.45, lean: 0.85 },
  'home-ground': { word: 'Home ground', door: 'door open', edge: 0.08, lean: 1 },
  'wider-ground': { word: 'Wider ground', door: 'door wide open', edge: -0.5, lean: 0.8 },
};

export function isLevel(id: string): id is LevelId {
  return Object.hasOwn(looks, id);
}

/** The place of a level from the lowest up; -1 for one from a later version. */
export function levelIndex(id: string): number {
  return levels.findIndex((level) => level === id);
}

/** The word for a level id; an id from a later version is shown as it is. */
export function levelWord(id: string): string {
  return isLevel(id) ? looks[id].word : id;
}

const hinge = 22;
const head = 8;
const foot = 58;
const wide = 32;

function DoorDrawing(props: { readonly look: LevelLook }) {
  const { edge, lean } = props.look;
  if (edge === null) return <rect class="door-way door-unknown" x={hinge} y={head} width={wide} height={foot - head} />;
  const x = hinge + wide * edge;
  const top = head - 5 * lean;
  const bottom = foot + 7 * lean;
  const leaf = `${hinge},${head} ${x},${top} ${x},${bottom} ${hinge},${foot}`;
  const knob = hinge + wide * edge * 0.86;
  const light = `${Math.max(x, hinge)},${foot + 5} ${hinge + wide},${foot + 5} ${hinge + wide + 10},72 ${Math.max(x, hinge) + 4},72`;
  return (
    <g>
      {edge < 1 ? <polygon class="door-light" points={light} /> : null}
      <rect class="door-way" x={hinge} y={head} width={wide} height={foot - head} />
      <rect class="door-sill" x={hinge - 9} y={foot} width={wide + 18} height="5" />
      <polygon class="door-leaf" points={leaf} />
      <circle class="door-knob" cx={knob} cy={(head + foot) / 2 + 3 * lean} r="1.9" />
    </g>
  );
}

/** A level's door alone, as a mark in a larger drawing that names the level beside it. */
export function DoorMark(props: { readonly level: string; readonly x: number; readonly y: number; readonly size: number }) {
  const { level, x, y, size } = props;
  if (!isLevel(level)) return null;
  return (
    <svg x={x - size / 2} y={y - size * 0.62} width={size} height={size} viewBox="0 0 72 72">
      <DoorDrawing look={looks[level]} />
    </svg>
  );
}

/**
 * A level as a door over a sill together with its word: shut, ajar, half open,
 * open, wide open; without a level a dashed doorway. The drawing never stands without the word in the text.
 */
export function LevelDoor(props: {
  readonly level: string;
  readonly size?: 'small' | 'normal' | 'large' | undefined;
  /** Not enough was tested; the level may still change. */
  readonly interim?: boolean | undefined;
  /** Worked out on this tablet and not yet confirmed by the server. */
  readonly provisional?: boolean | undefined;
}) {
  const look = isLevel(props.level) ? looks[props.level] : undefined;
  const asides = [props.interim ? 'interim' : '', props.provisional ? 'provisional' : ''].filter((word) => word !== '');
  return (
    <span class={`level-door level-door-${props.size ?? 'normal'}`}>
      {look ? (
        <svg class="door" viewBox="0 0 72 72" aria-hidden="true" focusable="false">
          <DoorDrawing look={look} />
        </svg>
      ) : null}
      <span class="level-words">
        <span class="level-word">{levelWord(props.level)}</span>
        {look ? <span class="unseen"> ({look.door})</span> : null}
        {asides.length > 0 ? <span class="level-aside">{asides.join(', ')}</span> : null}
      </span>
    </span>
  );
}
