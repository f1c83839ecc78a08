import { More } from '../../ui';
import { sentenceOf } from '../../ui/words';
import type { PlanDrawing as Plan, Point, Tightest } from '../../lib/model.gen';
import { frameOf, leftWords, tightPose, wallsWithin, type Frame } from './plan';

function pathOf(points: readonly Point[]): string {
  return points.map((point) => `${point.x},${-point.y}`).join(' ');
}

/** One metre in a strip of its own, so that a print can be measured. */
function ScaleBar(props: { readonly frame: Frame; readonly text: number }) {
  const { frame, text } = props;
  const x = frame.low.x + text;
  const y = -frame.low.y + 1.6 * text;
  return (
    <g class="plan-scale">
      <rect x={frame.low.x} y={-frame.low.y} width={frame.high.x - frame.low.x} height={3 * text} />
      <path d={`M${x} ${y - text / 3}v${text / 3}h1000v${-text / 3}`} />
      <text x={x + 500} y={y - text / 2} font-size={text} text-anchor="middle">
        1 m
      </text>
    </g>
  );
}

const between = (low: number, high: number, value: number) => Math.max(low, Math.min(high, value));

/** Rings the tightest point and says what is left there, on the far side from the chair. */
function TightMark(props: { readonly tight: Tightest; readonly from: Point; readonly frame: Frame; readonly text: number }) {
  const { from, frame, text } = props;
  const { at: tight, room_mm: room } = props.tight;
  const aside = Math.abs(tight.x - from.x) > Math.abs(tight.y - from.y);
  const x = between(frame.low.x + 5 * text, frame.high.x - 5 * text, tight.x);
  const y = between(frame.low.y + text, frame.high.y - text, tight.y + (aside || tight.y > from.y ? 1.5 : -1.5) * text);
  return (
    <g class="plan-tight">
      <circle cx={tight.x} cy={-tight.y} r={text * 0.6} />
      <text x={x} y={0.35 * text - y} font-size={text} text-anchor="middle">
        {leftWords(room)} here
      </text>
    </g>
  );
}

/** The passage from above, to scale: walls thick, the chair on its way, the tightest point ringed. */
export function PlanDrawing(props: { readonly plan: Plan; readonly name: string; readonly said: string }) {
  const { plan, name } = props;
  const frame = frameOf(plan);
  if (frame === null) return null;
  const wide = frame.high.x - frame.low.x;
  const high = frame.high.y - frame.low.y;
  const text = Math.max(wide, high) / 26;
  const { poses = [], walls = [], tightest } = plan;
  const said = sentenceOf(plan.message);
  const tight = tightPose(plan);
  const left = tightest ? `; ${leftWords(tightest.room_mm)} at the tightest point` : '';
  return (
    <figure class="plan">
      <svg
        viewBox={`${frame.low.x} ${-frame.high.y} ${wide} ${high + 2 * text}`}
        role="img"
        aria-label={`Plan of ${name} to scale${left}. The numbers stand below.`}
      >
        {poses.map((pose, i) =>
          i === tight ? null : (
            <polygon key={`${pose.at.x} ${pose.at.y} ${pose.heading}`} class="plan-pose" points={pathOf(pose.outline)} />
          ),
        )}
        {poses.map((pose, i) =>
          i === tight ? <polygon key="tight" class="plan-pose plan-pose-tight" points={pathOf(pose.outline)} /> : null,
        )}
        {walls.map(({ from: a, to: b }) => (
          <line key={`${a.x} ${a.y} ${b.x} ${b.y}`} class="plan-wall" x1={a.x} y1={-a.y} x2={b.x} y2={-b.y} />
        ))}
        {poses.map((pose) => (
          <circle key={`${pose.at.x} ${pose.at.y} ${pose.heading}`} class="plan-axle" cx={pose.at.x} cy={-pose.at.y} r={text / 8} />
        ))}
        <ScaleBar frame={frame} text={text} />
        {tightest ? <TightMark tight={tightest} from={poses[tight]?.at ?? tightest.at} frame={frame} text={text} /> : null}
      </svg>
      {said !== '' && said !== props.said ? <p>{said}</p> : null}
      <figcaption>
        To scale, from above. Thick lines are walls, outlines the chair on its way, dots the middle of its drive axle; the heavy outline is
        the tightest, its point ringed.
      </figcaption>
      <More summary="The drawing in numbers">
        <PlanTable plan={plan} frame={frame} tight={tight} />
      </More>
    </figure>
  );
}

const whole = (value: number) => String(Math.round(value));

function PlanTable(props: { readonly plan: Plan; readonly frame: Frame; readonly tight: number }) {
  const { plan, frame } = props;
  const { poses = [], tightest } = plan;
  return (
    <div class="table-wrap" role="region" aria-label="The drawing in numbers" tabIndex={0}>
      <table class="table">
        <caption>Millimetres to the right and up from the drawing’s own corner; directions against the clock from right.</caption>
        <thead>
          <tr>
            <th scope="col">What</th>
            <th scope="col">Right</th>
            <th scope="col">Up</th>
            <th scope="col">To, or direction</th>
          </tr>
        </thead>
        <tbody>
          {tightest ? (
            <tr>
              <th scope="row">Tightest point</th>
              <td>{whole(tightest.at.x)}</td>
              <td>{whole(tightest.at.y)}</td>
              <td>{leftWords(tightest.room_mm)}</td>
            </tr>
          ) : null}
          {poses.map((pose, i) => (
            <tr key={`${pose.at.x} ${pose.at.y} ${pose.heading}`}>
              <th scope="row">
                Axle, position {i + 1}
                {i === props.tight ? ', the tightest' : ''}
              </th>
              <td>{whole(pose.at.x)}</td>
              <td>{whole(pose.at.y)}</td>
              <td>{whole(pose.heading)}°</td>
            </tr>
          ))}
          {wallsWithin(plan, frame).map(({ from: a, to: b }, i) => (
            <tr key={`${a.x} ${a.y} ${b.x} ${b.y}`}>
              <th scope="row">Wall {i + 1}</th>
              <td>{whole(a.x)}</td>
              <td>{whole(a.y)}</td>
              <td>
                to {whole(b.x)}, {whole(b.y)}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
