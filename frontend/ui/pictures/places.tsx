/** Each kind of place with the measures where they are taken. Walls are solid. */
import type { PlaceKind } from '../../lib/model.gen';
import { ChairAbove, ChairGhost } from './chair-above';
import type { Drawn } from './measured-picture';
import { PersonSide } from './person';

const wide = 360;
const high = 225;

/** The person from the side on a floor at y, so high, leaning with the floor. */
function OnFloor(props: { readonly x: number; readonly y: number; readonly high: number; readonly turn?: number }) {
  const { x, y, turn = 0 } = props;
  return (
    <g class="person-small" transform={`translate(${x} ${y}) rotate(${turn}) scale(${props.high / 392}) translate(-150 -392)`}>
      <PersonSide />
    </g>
  );
}

const door: Drawn = {
  wide,
  high,
  measures: [{ key: 'width_mm', from: [112, 58], to: [248, 58], at: [180, 40] }],
  lines: () => (
    <>
      <path class="p-dark" d="M0 70H112V90H0ZM248 70H360V90H248Z" />
      <path class="p-thin" d="M112 52V70M248 52V70" />
      <path class="p-accent" d="M112 70L100 6L108 4L120 70Z" />
      <ChairAbove x={180} y={164} turn={-90} long={116} />
    </>
  ),
};

const offCorridor: Drawn = {
  wide,
  high,
  measures: [
    { key: 'width_mm', from: [112, 40], to: [244, 40], at: [182, 24] },
    { key: 'corridor_mm', from: [316, 74], to: [316, 206], at: [300, 140] },
  ],
  lines: () => (
    <>
      <path class="p-dark" d="M0 54H112V74H0ZM244 54H360V74H244ZM0 206H360V225H0Z" />
      <path class="p-thin" d="M112 34V54M244 34V54" />
      <ChairGhost x={64} y={142} long={116} />
      <ChairAbove x={150} y={140} turn={-52} long={116} />
    </>
  ),
};

const corner: Drawn = {
  wide,
  high,
  measures: [
    { key: 'corridor_mm', from: [38, 30], to: [38, 132], at: [62, 96] },
    { key: 'corridor2_mm', from: [210, 204], to: [326, 204], at: [262, 188] },
  ],
  lines: () => (
    <>
      <path class="p-dark" d="M0 10H346V225H326V30H0ZM0 132H210V225H190V152H0Z" />
      <ChairAbove x={168} y={82} long={104} />
      <path class="p-line p-dashed" d="M234 80Q268 84 268 136M260 128l8 9 8-9" />
    </>
  ),
};

const spot: Drawn = {
  wide,
  high,
  measures: [{ key: 'width_mm', from: [98, 192], to: [262, 192], at: [180, 186] }],
  lines: () => (
    <>
      <path class="p-dark" fill-rule="evenodd" d="M78 6H282V219H78ZM96 24V201H264V24Z" />
      <circle class="p-line p-dashed" cx="180" cy="98" r="68" />
      <ChairAbove x={180} y={102} turn={-90} long={100} />
      <path class="p-line" d="M239 54l11 12 2-16" />
    </>
  ),
};

const half: Drawn = {
  wide,
  high,
  measures: [{ key: 'corridor_mm', from: [330, 26], to: [330, 199], at: [300, 112] }],
  lines: () => (
    <>
      <path class="p-dark" d="M0 8H360V26H0ZM0 199H360V217H0Z" />
      <ChairGhost x={98} y={74} turn={180} long={104} />
      <ChairAbove x={98} y={154} long={104} />
      <path class="p-line p-dashed" d="M160 154Q212 154 212 114T164 74M172 66l-9 8 9 8" />
    </>
  ),
};

const threePoint: Drawn = {
  wide,
  high,
  measures: [{ key: 'corridor_mm', from: [334, 40], to: [334, 190], at: [304, 116] }],
  lines: () => (
    <>
      <path class="p-dark" d="M0 22H360V40H0ZM0 190H360V208H0Z" />
      <ChairAbove x={78} y={122} turn={-34} long={104} />
      <path class="p-line p-dashed" d="M134 78Q176 50 204 66M204 66Q186 122 164 158M164 158Q212 176 250 158M240 154l11 3-6 10" />
    </>
  ),
};

const corridor: Drawn = {
  wide,
  high,
  measures: [{ key: 'corridor_mm', from: [296, 58], to: [296, 164], at: [288, 112] }],
  lines: () => (
    <>
      <path class="p-dark" d="M0 40H360V58H0ZM0 164H360V182H0Z" />
      <ChairAbove x={118} y={112} long={116} />
      <path class="p-ghost" d="M188 112H224M216 104l9 8-9 8" />
    </>
  ),
};

const ramp: Drawn = {
  wide,
  high,
  measures: [
    { key: 'rise_mm', from: [322, 108], to: [322, 172], at: [312, 142] },
    { key: 'run_mm', from: [36, 204], to: [238, 204], at: [137, 200] },
    { key: 'width_mm', from: [36, 172], to: [62, 150], at: [46, 118] },
    { key: 'landing_mm', from: [238, 92], to: [300, 92], at: [276, 50] },
  ],
  lines: () => (
    <>
      <path class="p-pale" d="M36 172L238 108H300V172ZM36 172L62 150L262 88H324L300 108H238Z" />
      <path class="p-thin" d="M238 108L262 88M300 172L324 150V88" />
      <path class="p-dark" d="M0 172H360V180H0Z" />
      <OnFloor x={160} y={126} high={104} turn={-17} />
    </>
  ),
};

const threshold: Drawn = {
  wide,
  high,
  measures: [{ key: 'height_mm', from: [236, 150], to: [236, 182], at: [290, 150] }],
  lines: () => (
    <>
      <path class="p-dark" d="M0 182H360V200H0Z" />
      <path class="p-accent" d="M184 182V150H214V182Z" />
      <path class="p-thin" d="M218 150H246" />
      <OnFloor x={98} y={182} high={156} />
    </>
  ),
};

const load: Drawn = {
  wide,
  high,
  measures: [{ key: 'limit_kg', from: [254, 66], to: [286, 96], at: [292, 116], leader: true }],
  lines: () => (
    <>
      <path class="p-dark" d="M72 6H238V20H72ZM72 20H86V206H72ZM224 20H238V206H224ZM60 206H250V217H60Z" />
      <OnFloor x={154} y={206} high={156} />
      <rect class="p-pale" x="244" y="40" width="44" height="28" rx="3" />
      <path class="p-thin" d="M251 49H281M251 58H270" />
    </>
  ),
};

export const placeDrawings: Readonly<Record<PlaceKind, Drawn>> = {
  door,
  'door-off-corridor': offCorridor,
  corner,
  'turn-on-spot': spot,
  'half-turn': half,
  'three-point': threePoint,
  corridor,
  ramp,
  threshold,
  load,
};

/** What the drawing of each kind shows, for those who do not see it. */
export const placeWords: Readonly<Record<PlaceKind, string>> = {
  door: 'From above: the chair before a door in a wall, and an arrow across the opening.',
  'door-off-corridor':
    'From above: the chair turns from a corridor into a door at its side; arrows across the door and across the corridor.',
  corner: 'From above: the chair before a right-angled corner; arrows across the corridor driven in and across the one driven out.',
  'turn-on-spot': 'From above: the chair turns right round in a room; an arrow along the shorter side of the free floor.',
  'half-turn': 'From above: the chair turns to face the other way in a corridor; an arrow across the corridor.',
  'three-point': 'From above: the chair turns in a corridor by forward and reverse; an arrow across the corridor.',
  corridor: 'From above: the chair in a corridor; an arrow across it.',
  ramp: 'From the side: the chair on a ramp; arrows for rise, run, clear width and the level landing.',
  threshold: 'From the side: the chair before a threshold; an arrow for its height.',
  load: 'The chair on a lift, and the plate beside it that says what it carries.',
};
