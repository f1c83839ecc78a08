import { numberWords } from '../../ui';
import { classLabel } from '../../ui/control-classes';
import { apart, evenScale, logScale } from '../../ui/scales';
import { siteWords } from '../../ui/sites';
import { hasFigures, knowsTravel, type Comparable, type Reach } from './compare';
import { letterOf, Mark, useWidth } from './plot-parts';

const height = 420;
const edge = { left: 62, right: 16, top: 16, bottom: 52 };
const rowHigh = 17;
/** Width of the strip for controls whose travel is not known. */
const strip = 92;

interface PlotProps {
  readonly controls: readonly Comparable[];
  readonly reach: Reach | null;
  /** Times the operating force that are asked of a reserve, for the lines inside the area. */
  readonly reserves: readonly number[];
}

/** Force against travel: each control a mark, the client's measured area laid over it. */
export function ReachPlot(props: PlotProps) {
  const { frame, width } = useWidth();
  return (
    <div ref={frame} class="draw">
      <Drawing {...props} width={width} />
    </div>
  );
}

function scalesOf(props: PlotProps & { readonly width: number }) {
  const { reach, width } = props;
  const drawn = props.controls.filter(hasFigures);
  const forces = [...drawn.map((one) => one.operate), ...(reach ? [reach.force, reach.force / Math.max(1, ...props.reserves)] : [])].filter(
    (force) => force > 0,
  );
  const travels = [...drawn.map((one) => one.travel), reach?.travel ?? 0, 5];
  const open = drawn.some((one) => !knowsTravel(one)) ? strip : 0;
  const right = width - edge.right - open;
  return {
    right,
    open,
    y: logScale(Math.min(10, ...forces) * 0.7, Math.max(20, ...forces), { from: height - edge.bottom, to: edge.top }),
    x: evenScale(Math.max(...travels) * 1.05, { from: edge.left, to: right }, width < 500 ? 4 : 6),
  };
}

function Drawing(props: PlotProps & { readonly width: number }) {
  const { controls, reach, width } = props;
  const { x, y, right, open } = scalesOf(props);
  const bottom = height - edge.bottom;
  return (
    <svg
      class="draw-svg"
      viewBox={`0 0 ${width} ${height}`}
      width={width}
      height={height}
      role="img"
      aria-label="Force against travel. The table below says the same."
    >
      <defs>
        <pattern id="reach-hatch" width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <line class="draw-hatch" x1="0" y1="0" x2="0" y2="8" />
        </pattern>
      </defs>
      {y.ticks.map((tick) => (
        <g key={tick}>
          <line class="draw-grid" x1={edge.left} x2={right} y1={y.at(tick)} y2={y.at(tick)} />
          <text class="draw-text" x={edge.left - 8} y={y.at(tick) + 5} text-anchor="end">
            {tick}
          </text>
        </g>
      ))}
      {x.ticks.map((tick) => (
        <text key={tick} class="draw-text" x={x.at(tick)} y={bottom + 20} text-anchor="middle">
          {tick}
        </text>
      ))}
      <text class="draw-text draw-axis" x={(edge.left + right) / 2} y={height - 8} text-anchor="middle">
        Travel to full command, mm
      </text>
      <text class="draw-text draw-axis" transform={`translate(16 ${(edge.top + bottom) / 2}) rotate(-90)`} text-anchor="middle">
        Force, gf
      </text>
      <path class="draw-line" d={`M${edge.left} ${edge.top}V${bottom}H${right}`} />
      {reach ? <Area reach={reach} reserves={props.reserves} x={x} y={y} right={right} bottom={bottom} /> : null}
      {open > 0 ? (
        <>
          <line class="draw-line draw-dashed" x1={right + 8} x2={right + 8} y1={edge.top} y2={bottom} />
          <text class="draw-text" x={right + 14} y={bottom + 20}>
            travel
          </text>
          <text class="draw-text" x={right + 14} y={bottom + 36}>
            not known
          </text>
        </>
      ) : null}
      <Points
        controls={controls}
        place={(one) => ({ x: knowsTravel(one) ? x.at(one.travel) : right + 24, y: y.at(one.operate) })}
        width={width}
      />
    </svg>
  );
}

interface AreaProps {
  readonly reach: Reach;
  readonly reserves: readonly number[];
  readonly x: { readonly at: (value: number) => number };
  readonly y: { readonly at: (value: number) => number; readonly low: number };
  readonly right: number;
  readonly bottom: number;
}

/** Below the usable force and left of the usable travel; without a measured travel it stays open to the right. */
function Area(props: AreaProps) {
  const { reach, x, y, bottom } = props;
  const [top, end] = [y.at(reach.force), reach.travel === null ? props.right : x.at(reach.travel)];
  const inside = props.reserves.filter((times) => reach.force / times > y.low);
  return (
    <g>
      <rect
        class="draw-area"
        x={edge.left}
        y={top}
        width={Math.max(0, end - edge.left)}
        height={Math.max(0, bottom - top)}
        fill="url(#reach-hatch)"
      />
      <path class="draw-reach" d={`M${edge.left} ${top}H${end}${reach.travel === null ? '' : `V${bottom}`}`} />
      {inside.map((times) => (
        <g key={times}>
          <line class="draw-reach draw-dashed" x1={edge.left} x2={end} y1={y.at(reach.force / times)} y2={y.at(reach.force / times)} />
          <text class="draw-text draw-on" x={edge.left + 6} y={y.at(reach.force / times) - 4}>
            {times} times below
          </text>
        </g>
      ))}
      <text class="draw-text draw-on draw-axis" x={edge.left + 6} y={top - 5}>
        {siteWords(reach.site)}: {numberWords(reach.force, 1)} gf
        {reach.travel === null ? ', travel not measured' : `, ${numberWords(reach.travel, 1)} mm`}
        {reach.assumed ? ' (assumed)' : ''}
      </text>
    </g>
  );
}

function Points(props: {
  readonly controls: readonly Comparable[];
  readonly place: (one: Comparable) => { readonly x: number; readonly y: number };
  readonly width: number;
}) {
  const wide = props.width >= 600;
  const drawn = props.controls
    .map((control, at) => ({ control, at }))
    .filter(({ control }) => hasFigures(control))
    .map(({ control, at }) => {
      const spot = props.place(control);
      const named = wide && spot.x < props.width - 220;
      const words = named ? `${letterOf(at)} ${short(control.generic ? classLabel(control.class) : control.name)}` : letterOf(at);
      return { control, at, spot, words };
    });
  const labels = apart(
    drawn.map(({ spot, words }) => ({ x: spot.x, y: spot.y, width: 24 + words.length * 8 })),
    rowHigh,
  );
  return (
    <>
      {drawn.map(({ at, spot, words }, n) => (
        <text key={at} class="draw-text draw-on draw-name" x={spot.x + 15} y={(labels[n] ?? spot.y) + 5}>
          {words}
        </text>
      ))}
      {[...drawn]
        .sort((a, b) => Number(b.control.generic) - Number(a.control.generic))
        .map(({ control, at, spot }) => (
          <g key={at} transform={`translate(${spot.x} ${spot.y})`}>
            <Mark at={at} generic={control.generic} />
          </g>
        ))}
    </>
  );
}

function short(name: string): string {
  return name.length > 24 ? `${name.slice(0, 23)}…` : name;
}
