/** The chair with the person in it, and where it is measured. */
import { ChairAbove } from './chair-above';
import type { Drawn } from './measured-picture';
import { PersonBack, PersonSide } from './person';

/** Outline and drive wheels. */
export const chairAbove: Drawn = {
  wide: 400,
  high: 316,
  measures: [
    { key: 'length_mm', from: [86, 248], to: [300, 248], at: [176, 280] },
    { key: 'width_mm', from: [52, 86], to: [52, 222], at: [72, 154] },
    { key: 'ahead_mm', from: [184, 66], to: [300, 66], at: [242, 34] },
    { key: 'clearance_mm', from: [348, 222], to: [348, 254], at: [330, 284] },
  ],
  lines: () => (
    <>
      <path class="p-ghost" d="M76 54H372M76 254H372" />
      <ChairAbove x={184} y={150} long={214} />
      <path class="p-thin" d="M184 60V150M300 60V100M42 86H92M42 222H90M86 218V256M300 222V256M290 222H358" />
      <circle class="p-letter-ground" cx="184" cy="150" r="6" />
    </>
  ),
};

export const chairAboveWords =
  'The chair with the person from above. Length from the foremost to the rearmost point, width with control and hands, from the drive axle to the foremost point, and the room wanted beside it.';

/** What the chair may drive over, and what a lift or floor must carry. */
export const chairSide: Drawn = {
  wide: 400,
  high: 246,
  measures: [
    { key: 'slope_deg', from: [40, 176], to: [40, 220], at: [70, 140] },
    { key: 'step_mm', from: [362, 198], to: [362, 220], at: [338, 164] },
    { key: 'chair_kg', from: [190, 166], to: [112, 72], at: [84, 50], leader: true },
    { key: 'person_kg', from: [232, 88], to: [290, 62], at: [322, 42], leader: true },
  ],
  lines: () => (
    <>
      <path class="p-dark" d="M0 220H400V230H0Z" />
      <path class="p-pale" d="M40 220H160L40 176Z" />
      <path class="p-dark" d="M338 198H354V220H338Z" />
      <path class="p-thin" d="M354 198H372" />
      <g class="person-small" transform="translate(236 220) scale(.46) translate(-150 -392)">
        <PersonSide />
      </g>
    </>
  ),
};

export const chairSideWords =
  'The chair with the person from the side, between a slope and a step: what its manual allows, and what both weigh.';

/** Millimetres of the room to a unit of the drawing. */
const scale = 4.2;
const post = { x: 106, seat: 321 };
const midline = 552;

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
    x: between(post.x, 330, post.x + or(at.forward, 480) / scale),
    y: between(112, 396, post.seat - or(at.up, 220) / scale),
    side: between(440, 664, midline + or(at.side, 260) / scale),
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
    wide: 690,
    high: 440,
    measures: [
      { key: 'forward_mm', from: [post.x, 104], to: [x, 104], at: [(post.x + x) / 2, 46] },
      { key: 'up_mm', from: [292, post.seat], to: [292, y], at: [352, Math.max(post.seat, y) + 44] },
      { key: 'side_mm', from: [midline, 104], to: [side, 104], at: [(midline + side) / 2, 46] },
    ],
    lines: () => (
      <>
        <g class="person-small" transform="translate(20 90) scale(.88)">
          <PersonSide />
        </g>
        <path class="p-thin p-dashed" d={`M${post.x} 94V${post.seat}M${x} 94V${y}M200 ${post.seat}H304M${x} ${y}H304`} />
        <Knob x={x} y={y} known={known} />
        <g class="person-small" transform="translate(420 90) scale(.88)">
          <PersonBack />
        </g>
        <path class="p-thin p-dashed" d={`M${midline} 94V434M${side} 94V${y}`} />
        <Knob x={side} y={y} known={Number.isFinite(at.side) && Number.isFinite(at.up)} />
      </>
    ),
  };
}

export const mountWords =
  'Two drawings of the seated person. From the side: forward from the back post to the control, and up from the seat. From behind, as the driver sees it: from the midline to the right.';
