/** The door over the sill, large: the light on the sill grows with the level. */
import type { LevelId } from '../../lib/model.gen';

interface Open {
  /** Where the free edge stands, and how far above and below the frame it reaches. */
  readonly edge: number;
  readonly lean: number;
  /** The light on the sill: from and to, and how far it has spread on the floor. */
  readonly light?: readonly [from: number, left: number, right: number];
}

const doors: Readonly<Record<Exclude<LevelId, 'none'>, Open>> = {
  pause: { edge: 174, lean: 0 },
  practise: { edge: 163.5, lean: 15, light: [163, 155, 190] },
  accompanied: { edge: 125, lean: 29, light: [125, 108, 208] },
  'home-ground': { edge: 31, lean: 31, light: [70, 42, 230] },
  'wider-ground': { edge: -26, lean: 12.5, light: [70, 33, 248] },
};

const hinge = 70;
const head = 24;
const foot = 236;

/** A point of the leaf, as parts of its width from the hinge and of its height from above. */
function onLeaf(door: Open, across: number, down: number): string {
  const x = hinge + (door.edge - hinge) * across;
  const top = head - door.lean * across;
  const bottom = foot + door.lean * across;
  return `${Math.round(x * 10) / 10} ${Math.round((top + (bottom - top) * down) * 10) / 10}`;
}

function panel(door: Open, top: number, bottom: number): string {
  const corners = [onLeaf(door, 0.18, top), onLeaf(door, 0.82, top), onLeaf(door, 0.82, bottom), onLeaf(door, 0.18, bottom)];
  return `M${corners.join('L')}Z`;
}

/** What is seen through the open door: a way to the horizon, and from wider ground the sun over hills. */
function Outside(props: { readonly wide: boolean }) {
  return (
    <>
      <path class="p-thin" d="M71 158C90 138 108 150 126 140S160 128 173 138" />
      {props.wide ? (
        <>
          <circle class="p-thin" cx="146" cy="98" r="15" />
          <path class="p-thin" d="M71 168C88 160 120 172 173 160" />
        </>
      ) : null}
      <path class="p-thin" d="M112 160L94 235M128 159L154 235M120 168v10M121 190v13M122 214v16" />
    </>
  );
}

/** A level as a door; a bar lies across it while something forbids the driving. The word stands beside it in the text. */
export function Door(props: { readonly level: LevelId; readonly barred: boolean }) {
  const { level } = props;
  const door = level === 'none' ? null : doors[level];
  return (
    <svg class="picture door-large" viewBox="-34 -14 292 312" aria-hidden="true" focusable="false">
      {door?.light ? <path class="door-glow" d={`M${door.light[0]} 246H174L${door.light[2]} 292H${door.light[1]}Z`} /> : null}
      <rect class={door ? 'door-inside' : 'door-inside door-unknown'} x="70" y="24" width="104" height="212" />
      {door?.light ? <Outside wide={level === 'wider-ground'} /> : null}
      <path class="door-frame" d="M59 240V13H185V240H174V24H70V240Z" />
      {door ? (
        <>
          <path class="door-face" d={`M${onLeaf(door, 0, 0)}L${onLeaf(door, 1, 0)}L${onLeaf(door, 1, 1)}L${onLeaf(door, 0, 1)}Z`} />
          <path class="door-panel" d={panel(door, 0.1, 0.45) + panel(door, 0.54, 0.9)} />
          <path class="door-handle" d={`M${onLeaf(door, 0.88, 0.51)}h.01`} />
        </>
      ) : null}
      <path class="door-sill" d="M44 240H200V250H44Z" />
      {props.barred ? (
        <>
          <path class="door-bar" d="M46 150H198V172H46Z" />
          <path class="door-bracket" d="M56 141V181M188 141V181" />
        </>
      ) : null}
    </svg>
  );
}
