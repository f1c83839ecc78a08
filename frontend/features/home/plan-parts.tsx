/** Parts of a drawing to scale. Its unit is a millimetre; y goes downwards, as on the screen. */
import { boxAround, firstFree, type Box } from '../../ui/rose/layout';
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
  // Heads that would cross stand outside and point in.
  const out = long < 2.4 * head ? -1 : 1;
  const tail = out < 0 ? `M${-1.8 * head} 0H0M${long} 0H${long + 1.8 * head}` : '';
  return (
    <g class="plan-span">
      <path
        transform={`translate(${from.x} ${from.y}) rotate(${turn})`}
        d={`M0 0H${long}M${out * head} ${-head / 2}L0 0L${out * head} ${head / 2}M${long - out * head} ${-head / 2}L${long} 0L${long - out * head} ${head / 2}${tail}`}
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

/** What a span covers: its line, and its figure. */
function spanBoxes({ from, to }: { readonly from: At; readonly to: At }, text: number): readonly Box[] {
  const across = from.y === to.y;
  const x = (across ? Math.max(from.x, to.x) : (from.x + to.x) / 2) + text / 2;
  const [middleX, middleY] = [(from.x + to.x) / 2, (from.y + to.y) / 2];
  return [
    { x, y: middleY - text, wide: 5 * text, high: 2 * text },
    boxAround(middleX, middleY, Math.abs(to.x - from.x) + text / 2, Math.abs(to.y - from.y) + text / 2),
  ];
}

/**
 * Rings the tightest point and says in the largest figure of the drawing what is left
 * there: away from the chair, and on no other figure. A bar with brackets where it does not fit.
 */
export function TightMark(props: {
  readonly at: At;
  readonly from: At;
  readonly left: number;
  readonly low: At;
  readonly high: At;
  readonly spans: readonly { readonly from: At; readonly to: At }[];
  readonly text: number;
}) {
  const { at, from, left, low, high, text } = props;
  const words = leftWords(left);
  const size = 1.3 * text;
  const [wide, tall] = [(words.length + 2) * size * 0.58, 1.5 * size];
  const away = Math.atan2(at.y - from.y, at.x - from.x);
  const boxes = [0, 0.8, -0.8, 1.6, -1.6, 2.4, -2.4].flatMap((turn) =>
    [1, 1.6, 2.4].map((far) =>
      boxAround(
        at.x + far * (wide / 2 + text) * Math.cos(away + turn),
        at.y + far * (tall / 2 + 1.2 * text) * Math.sin(away + turn),
        wide,
        tall,
      ),
    ),
  );
  const fitting = boxes.filter((box) => box.x >= low.x && box.y >= low.y && box.x + wide <= high.x && box.y + tall <= high.y);
  const taken = props.spans.flatMap((span) => spanBoxes(span, text));
  const box = firstFree(fitting, taken) ?? fitting[0] ?? boxAround(at.x, at.y, wide, tall);
  return (
    <g class={left < 0 ? 'plan-tight plan-short' : 'plan-tight'}>
      <circle cx={at.x} cy={at.y} r={text * 0.6} />
      <rect x={box.x} y={box.y} width={wide} height={tall} rx={size / 3} />
      {left < 0 ? (
        <path d={`M${box.x} ${box.y - size / 4}v${tall + size / 2}M${box.x + wide} ${box.y - size / 4}v${tall + size / 2}`} />
      ) : null}
      <text x={box.x + wide / 2} y={box.y + tall / 2 + 0.35 * size} font-size={size} text-anchor="middle">
        {words}
      </text>
    </g>
  );
}
