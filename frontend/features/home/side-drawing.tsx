import { PersonSide } from '../../ui/pictures/person';
import { numberWords } from '../../ui/words';
import type { ChairMeasured, PlaceMeasured } from '../../lib/model.gen';
import { ScaleBar, SpanLine, textOf } from './plan-parts';

/** The person from the side in its own drawing: how long it is, its middle and its floor. */
const seated = { long: 250, middle: 169, floor: 392, high: 370 };

/** The chair with the person, as long as it was measured, on a floor at x and y that leans by so many degrees. */
function Seated(props: { readonly x: number; readonly y: number; readonly long: number; readonly lean: number }) {
  const { x, y, long, lean } = props;
  return (
    <g
      class="person-small"
      transform={`translate(${x} ${y}) rotate(${-lean}) scale(${long / seated.long}) translate(${-seated.middle} ${-seated.floor})`}
    >
      <PersonSide />
    </g>
  );
}

/** What is drawn from the side: the floor's corners, where the person stands, and the measures. */
export interface Side {
  /** The top of the floor, from left to right. */
  readonly floor: readonly (readonly [x: number, y: number])[];
  readonly person: { readonly x: number; readonly y: number; readonly lean: number };
  readonly spans: readonly {
    readonly key: string;
    readonly from: readonly [number, number];
    readonly to: readonly [number, number];
    readonly mm: number;
  }[];
  /** How high a step the chair's manual allows. */
  readonly limit?: number | undefined;
}

/** A ramp or a step from the side, in millimetres from where it begins; null while a figure is missing. */
export function sideOf(place: PlaceMeasured, chair: ChairMeasured): Side | null {
  const near = -chair.length_mm - 300;
  if (place.kind === 'threshold' && place.height_mm) {
    const up = place.height_mm;
    return {
      floor: [
        [near, 0],
        [0, 0],
        [0, -up],
        [100, -up],
        [100, 0],
        [900, 0],
      ],
      person: { x: -chair.length_mm / 2 - 60, y: 0, lean: 0 },
      spans: [{ key: 'height_mm', from: [260, 0], to: [260, -up], mm: up }],
      limit: chair.step_mm || undefined,
    };
  }
  const { rise_mm: rise, run_mm: run, landing_mm: landing } = place;
  if (place.kind !== 'ramp' || !rise || !run) return null;
  const end = run + (landing ?? chair.length_mm);
  return {
    floor: [
      [near, 0],
      [0, 0],
      [run, -rise],
      [end, -rise],
    ],
    person: { x: run / 2, y: -rise / 2, lean: (Math.atan2(rise, run) * 180) / Math.PI },
    spans: [
      { key: 'rise_mm', from: [end + 150, 0], to: [end + 150, -rise], mm: rise },
      { key: 'run_mm', from: [0, 300], to: [run, 300], mm: run },
      ...(landing ? [{ key: 'landing_mm', from: [run, -rise - 150] as const, to: [end, -rise - 150] as const, mm: landing }] : []),
    ],
  };
}

/** A ramp or a step to scale, with the chair on it and what was measured at its arrows. */
export function SideDrawing(props: { readonly place: PlaceMeasured; readonly chair: ChairMeasured }) {
  const { place, chair } = props;
  const side = sideOf(place, chair);
  if (side === null) return null;
  const low = side.floor[0]?.[0] ?? 0;
  const top = Math.min(...side.floor.map(([, y]) => y), side.person.y - (seated.high * chair.length_mm) / seated.long) - 150;
  const right = Math.max(...side.floor.map(([x]) => x), ...side.spans.map((span) => span.to[0])) + 900;
  const bottom = 500;
  const text = textOf(right - low, bottom - top);
  const line = side.floor.map(([x, y]) => `${x} ${y}`).join('L');
  return (
    <figure class="plan">
      <svg
        viewBox={`${low} ${top} ${right - low} ${bottom - top + 3 * text}`}
        role="img"
        aria-label={`${place.name} to scale, from the side. The numbers stand above.`}
      >
        <path class="plan-floor" d={`M${line}V180H${low}Z`} />
        <Seated x={side.person.x} y={side.person.y} long={chair.length_mm} lean={side.person.lean} />
        {side.limit ? (
          <g class="plan-limit">
            <path d={`M-150 ${-side.limit}H200`} />
            <text x={-160} y={-side.limit - text / 3} font-size={text} text-anchor="end">
              the chair’s manual: {numberWords(side.limit)} mm
            </text>
          </g>
        ) : null}
        {side.spans.map(({ key, from, to, mm }) => (
          <SpanLine key={key} from={{ x: from[0], y: from[1] }} to={{ x: to[0], y: to[1] }} words={`${numberWords(mm)} mm`} text={text} />
        ))}
        <ScaleBar left={low} top={bottom} wide={right - low} text={text} />
      </svg>
      <figcaption>To scale, from the side.</figcaption>
    </figure>
  );
}
