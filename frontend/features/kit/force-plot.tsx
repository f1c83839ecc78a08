import { numberWords } from '../../ui';
import { evenScale, logScale, spread, type Scale } from '../../ui/scales';
import type { Comparable } from './compare';
import { letterOf, useWidth } from './plot-parts';
import { forcesOn, needLines, type Bar, type NeedLine } from './strength-bars';

const height = 400;
const edge = { left: 62, right: 74, top: 16, bottom: 58 };
const rowHigh = 17;

interface ForceProps {
  readonly bars: readonly Bar[];
  readonly controls: readonly Comparable[];
  /** Times the operating force that are asked of a reserve. */
  readonly reserves: readonly number[];
  /** Largest force that was not meant, gf. */
  readonly unintended: number | null;
  readonly even: boolean;
}

/** Force available, rested and tired, against what controls ask. */
export function ForcePlot(props: ForceProps) {
  const { frame, width } = useWidth();
  return (
    <div ref={frame} class="draw">
      <Drawing {...props} width={width} />
    </div>
  );
}

function scaleOf(forces: readonly number[], even: boolean): Scale {
  const span = { from: height - edge.bottom, to: edge.top };
  const most = Math.max(20, ...forces);
  return even ? evenScale(most, span) : logScale(Math.min(most / 2, ...forces) * 0.8, most, span);
}

function Drawing(props: ForceProps & { readonly width: number }) {
  const { bars, controls, unintended, width } = props;
  const lines = needLines(controls, props.reserves);
  const starts = unintended === null ? [] : controls.map((one) => one.start);
  const y = scaleOf(forcesOn(bars, lines, [unintended ?? 0, ...starts]), props.even);
  const [bottom, right] = [height - edge.bottom, width - edge.right];
  const groups = bars.length + (unintended === null ? 0 : 1);
  const step = (right - edge.left) / groups;
  return (
    <svg
      class="draw-svg"
      viewBox={`0 0 ${width} ${height}`}
      width={width}
      height={height}
      role="img"
      aria-label="Force available against force needed. The tables below say the same."
    >
      <defs>
        <pattern id="tired-hatch" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <rect class="bar-paper" width="7" height="7" />
          <line class="bar-hatch" x1="0" y1="0" x2="0" y2="7" />
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
      <text class="draw-text draw-axis" transform={`translate(16 ${(edge.top + bottom) / 2}) rotate(-90)`} text-anchor="middle">
        Force, gf
      </text>
      {bars.map((bar, at) => (
        <Group key={bar.direction} bar={bar} y={y} bottom={bottom} left={edge.left + at * step} step={step} />
      ))}
      {unintended === null ? null : (
        <Unintended force={unintended} controls={controls} y={y} left={edge.left + bars.length * step} step={step} bottom={bottom} />
      )}
      <Lines lines={lines} y={y} right={edge.left + bars.length * step} labels={right + 6} />
      <path class="draw-line" d={`M${edge.left} ${edge.top}V${bottom}H${right}`} />
    </svg>
  );
}

interface GroupProps {
  readonly bar: Bar;
  readonly y: Scale;
  readonly bottom: number;
  readonly left: number;
  readonly step: number;
}

/** Where the words do not fit; the table says them. */
const ARROWS: Readonly<Record<string, string>> = { forward: '↑', reverse: '↓', left: '←', right: '→' };

function Group(props: GroupProps) {
  const { bar, y, bottom, left, step } = props;
  const wide = Math.min(34, step * 0.3);
  const middle = left + step / 2;
  const shape = (force: number | null, x: number, tired: boolean) =>
    force === null ? (
      <text class="draw-text" x={x + wide / 2} y={bottom - 5} text-anchor="middle">
        ?
      </text>
    ) : (
      <rect
        class={tired ? 'bar-tired' : 'bar'}
        fill={tired ? 'url(#tired-hatch)' : undefined}
        x={x}
        width={wide}
        y={y.at(force)}
        height={Math.max(1, bottom - y.at(force))}
      />
    );
  return (
    <g>
      {shape(bar.rested, middle - wide - 1, false)}
      {shape(bar.tired, middle + 1, true)}
      <text class="draw-text draw-axis" x={middle} y={bottom + 20} text-anchor="middle">
        {step < 70 ? ARROWS[bar.direction] : bar.direction}
      </text>
      {bar.needed || step < 70 ? null : (
        <text class="draw-text" x={middle} y={bottom + 38} text-anchor="middle">
          not asked
        </text>
      )}
    </g>
  );
}

const DASHES = ['draw-line', 'draw-line draw-dashed', 'draw-line draw-dotted'];

/** Across the bars: once the force of a control in full, more than once in dashes and dots. */
function Lines(props: { readonly lines: readonly NeedLine[]; readonly y: Scale; readonly right: number; readonly labels: number }) {
  const { lines, y } = props;
  const places = spread(
    lines.map((line) => y.at(line.force)),
    rowHigh,
  );
  const kinds = [...new Set(lines.map((line) => line.times))].sort((a, b) => a - b);
  return (
    <>
      {lines.map((line, n) => (
        <g key={`${line.control.id} ${line.times}`}>
          <line
            class={`draw-need ${DASHES[kinds.indexOf(line.times)] ?? 'draw-line'}`}
            x1={edge.left}
            x2={props.right}
            y1={y.at(line.force)}
            y2={y.at(line.force)}
          />
          <text class="draw-text draw-on draw-name" x={props.labels} y={(places[n] ?? 0) + 5}>
            {letterOf(line.at)} × {numberWords(line.times, 1)}
          </text>
        </g>
      ))}
    </>
  );
}

/** Near the bottom: what was not meant, and the force at which each control starts the chair. */
function Unintended(props: {
  readonly force: number;
  readonly controls: readonly Comparable[];
  readonly y: Scale;
  readonly left: number;
  readonly step: number;
  readonly bottom: number;
}) {
  const { force, y, left, step, bottom } = props;
  const middle = left + step / 2;
  const starts = props.controls.map((control, at) => ({ control, at })).filter(({ control }) => control.start > 0);
  const places = spread(
    starts.map(({ control }) => y.at(control.start)),
    rowHigh,
  );
  return (
    <g>
      {starts.map(({ control, at }, n) => (
        <g key={control.id}>
          <line class="draw-reach" x1={left + 4} x2={left + step - 30} y1={y.at(control.start)} y2={y.at(control.start)} />
          <text class="draw-text draw-on" x={left + step - 27} y={(places[n] ?? 0) + 5}>
            {letterOf(at)}
          </text>
        </g>
      ))}
      <path class="mark" transform={`translate(${middle - 8} ${y.at(force)})`} d="M0 -9l9 9l-9 9l-9 -9z" />
      <text class="draw-text draw-axis" x={middle} y={bottom + 20} text-anchor="middle">
        not
      </text>
      <text class="draw-text draw-axis" x={middle} y={bottom + 36} text-anchor="middle">
        meant
      </text>
    </g>
  );
}
