/** Parts of a drawing to scale. Its unit is a millimetre; y goes downwards, as on the screen. */
import { leftWords } from './plan';

interface At {
  readonly x: number;
  readonly y: number;
}

/** The size of the figures: the drawing is about so many of them wide. */
export const textOf = (wide: number, high: number): number => Math.max(wide, high) / 26;

/** One metre in a strip of its own, so that a print can be measured. */
export function ScaleBar(props: { readonly left: number; readonly top: number; readonly wide: number; readonly text: number }) {
  const { left, top, text } = props;
  const [x, y] = [left + text, top + 1.6 * text];
  return (
    <g class="plan-scale">
      <rect x={left} y={top} width={props.wide} height={3 * text} />
      <path class="plan-line" d={`M${x} ${y - text / 3}v${text / 3}h1000v${-text / 3}`} />
      <text x={x + 500} y={y - text / 2} font-size={text} text-anchor="middle">
        1 m
      </text>
    </g>
  );
}

/** A measured length with its figure: beyond the right end of one across, beside the middle of one upwards. */
export function SpanLine(props: { readonly from: At; readonly to: At; readonly words: string; readonly text: number }) {
  const { from, to, text } = props;
  const long = Math.hypot(to.x - from.x, to.y - from.y);
  const turn = (Math.atan2(to.y - from.y, to.x - from.x) * 180) / Math.PI;
  const head = text / 2;
  const across = from.y === to.y;
  return (
    <g class="plan-span">
      <path
        transform={`translate(${from.x} ${from.y}) rotate(${turn})`}
        d={`M0 0H${long}M${head} ${-head / 2}L0 0L${head} ${head / 2}M${long - head} ${-head / 2}L${long} 0L${long - head} ${head / 2}`}
      />
      <text
        x={(across ? Math.max(from.x, to.x) : (from.x + to.x) / 2) + text / 2}
        y={(across ? to.y : (from.y + to.y) / 2) + text * 0.35}
        font-size={text}
      >
        {props.words}
      </text>
    </g>
  );
}

const between = (low: number, high: number, value: number) => Math.max(low, Math.min(high, value));

/**
 * Rings the tightest point and says in the largest figure of the drawing what is left
 * there, on the far side from the chair. A bar with brackets where it does not fit.
 */
export function TightMark(props: {
  readonly at: At;
  readonly from: At;
  readonly left: number;
  readonly low: At;
  readonly high: At;
  readonly text: number;
}) {
  const { at, from, left, low, high, text } = props;
  const words = leftWords(left);
  const size = 1.5 * text;
  const wide = (words.length + 2) * size * 0.55;
  const aside = Math.abs(at.x - from.x) > Math.abs(at.y - from.y);
  const x = between(low.x + wide / 2, high.x - wide / 2, at.x);
  const y = between(low.y + size, high.y - size, at.y + (aside || at.y < from.y ? -2.4 : 2.4) * text);
  return (
    <g class={left < 0 ? 'plan-tight plan-short' : 'plan-tight'}>
      <circle cx={at.x} cy={at.y} r={text * 0.6} />
      <rect x={x - wide / 2} y={y - size * 0.75} width={wide} height={1.5 * size} rx={size / 3} />
      {left < 0 ? <path d={`M${x - wide / 2} ${y - size}v${2 * size}M${x + wide / 2} ${y - size}v${2 * size}`} /> : null}
      <text x={x} y={y + 0.35 * size} font-size={size} text-anchor="middle">
        {words}
      </text>
    </g>
  );
}
