/** The chair with the person in it, and where it is measured. */
import { ChairAbove } from './chair-above';
import type { Drawn } from './measured-picture';
import { PersonBack, PersonSide } from './person';

/** Outline and drive wheels. */
export const chairAbove: Drawn = {
  wide: 400,
  high: 250,
  measures: [
    { key: 'length_mm', from: [86, 222], to: [300, 222], at: [193, 222] },
    { key: 'width_mm', from: [56, 58], to: [56, 194], at: [56, 126] },
    { key: 'ahead_mm', from: [184, 34], to: [300, 34], at: [242, 22] },
    { key: 'clearance_mm', from: [340, 194], to: [340, 226], at: [346, 172] },
  ],
  lines: () => (
    <>
      <path class="p-ghost" d="M76 26H330M76 226H330" />
      <ChairAbove x={184} y={122} long={214} />
      <path class="p-thin" d="M184 28V122M300 28V60M46 58H92M46 194H90M86 190V230M300 190V230M326 194H350M326 226H350" />
      <circle class="p-letter-ground" cx="184" cy="122" r="6" />
    </>
  ),
};

export const chairAboveWords =
  'The chair with the person from above. Length from the foremost to the rearmost point, width with control and hands, from the drive axle to the foremost point, and the room wanted beside it.';

/** What the chair may drive over, and what a lift or floor must carry. */
export const chairSide: Drawn = {
  wide: 400,
  high: 220,
  measures: [
    { key: 'slope_deg', from: [96, 150], to: [96, 194], at: [70, 128] },
    { key: 'step_mm', from: [362, 172], to: [362, 194], at: [336, 142] },
    { key: 'chair_kg', from: [196, 128], to: [122, 60], at: [84, 50], leader: true },
    { key: 'person_kg', from: [226, 78], to: [286, 46], at: [316, 42], leader: true },
  ],
  lines: () => (
    <>
      <path class="p-dark" d="M0 194H400V204H0Z" />
      <path class="p-pale" d="M20 194H140L20 150Z" />
      <path class="p-dark" d="M338 172H354V194H338Z" />
      <path class="p-thin" d="M354 172H372" />
      <g class="person-small" transform="translate(228 194) scale(.44) translate(-150 -392)">
        <PersonSide />
      </g>
    </>
  ),
};

export const chairSideWords =
  'The chair with the person from the side, between a slope and a step: what its manual allows, and what both weigh.';

/** Millimetres of the room to a unit of the drawing. */
const scale = 4.4;
const post = { x: 108, seat: 226 };
const midline = 500;

const between = (low: number, high: number, value: number) => Math.max(low, Math.min(high, value));

/** Where the knob's centre is, in millimetres; NaN where nothing is typed. */
export interface KnobPlace {
  readonly forward: number;
  readonly up: number;
  readonly side: number;
}

/** The knob, where it is usual until it is typed; then to scale, as far as the drawing goes. */
function knobOf(at: KnobPlace) {
  const or = (value: number, usual: number) => (Number.isFinite(value) ? value : usual);
  return {
    x: between(post.x, 320, post.x + or(at.forward, 480) / scale),
    y: between(20, 290, post.seat - or(at.up, 220) / scale),
    side: between(390, 610, midline + or(at.side, 260) / scale),
  };
}

function Knob(props: { readonly x: number; readonly y: number; readonly known: boolean }) {
  return (
    <g transform={`translate(${props.x} ${props.y})`}>
      <circle class={props.known ? 'site-ring' : 'p-ghost'} r="10" />
      <circle class="p-accent" r="4" />
    </g>
  );
}

/** Forward from the back post and up from the seat, from the side; sideways, as the driver sees it. */
export function mountDrawn(at: KnobPlace): Drawn {
  const { x, y, side } = knobOf(at);
  const known = Number.isFinite(at.forward) && Number.isFinite(at.up);
  return {
    wide: 640,
    high: 360,
    measures: [
      { key: 'forward_mm', from: [post.x, 74], to: [x, 74], at: [(post.x + x) / 2, 40] },
      { key: 'up_mm', from: [290, post.seat], to: [290, y], at: [312, between(120, 250, (post.seat + y) / 2 + 50)] },
      { key: 'side_mm', from: [midline, 60], to: [side, 60], at: [midline + 30, 30] },
    ],
    lines: () => (
      <>
        <g class="person-small" transform="translate(20 -6) scale(.88)">
          <PersonSide />
        </g>
        <path class="p-thin p-dashed" d={`M${post.x} 62V${post.seat}M${x} 66V${y}M200 ${post.seat}H302M${x} ${y}H302`} />
        <Knob x={x} y={y} known={known} />
        <g class="person-small" transform="translate(368 -6) scale(.88)">
          <PersonBack />
        </g>
        <path class="p-thin p-dashed" d={`M${midline} 48V338M${side} 52V${y}`} />
        <Knob x={side} y={y} known={Number.isFinite(at.side) && Number.isFinite(at.up)} />
      </>
    ),
  };
}

export const mountWords =
  'Two drawings of the seated person. From the side: forward from the back post to the control, and up from the seat. From behind, as the driver sees it: from the midline to the right.';
