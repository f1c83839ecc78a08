import { More } from '../../ui';
import { sentenceOf } from '../../ui/words';
import { ChairAbove, chairLength, chairWidth } from '../../ui/pictures/chair-above';
import type { ChairMeasured, PlaceMeasured, PlanDrawing as Plan, Point, Pose } from '../../lib/model.gen';
import { frameOf, leftWords, tightPose, wallsWithin, type Frame } from './plan';
import { ScaleBar, SpanLine, textOf, TightMark } from './plan-parts';

const down = (point: Point): Point => ({ x: point.x, y: -point.y });

function pathOf(points: readonly Point[]): string {
  return points.map((point) => `${point.x},${-point.y}`).join(' ');
}

/** The person in the chair, as large as its outline of a pose. */
function Seated(props: { readonly pose: Pose; readonly chair: ChairMeasured }) {
  const { pose, chair } = props;
  const middle = { x: mean(pose.outline.map((one) => one.x)), y: mean(pose.outline.map((one) => one.y)) };
  return (
    <g
      transform={`translate(${middle.x} ${-middle.y}) rotate(${-pose.heading}) scale(1 ${(chair.width_mm / chairWidth) * (chairLength / chair.length_mm)})`}
    >
      <ChairAbove x={-chair.length_mm * (45 / chairLength)} y={-chair.length_mm * (17.5 / chairLength)} long={chair.length_mm} />
    </g>
  );
}

const mean = (values: readonly number[]) => values.reduce((sum, one) => sum + one, 0) / values.length;

/** The passage from above, to scale: walls thick, the chair on its way, what was measured at its arrows, the tightest point ringed. */
export function PlanDrawing(props: {
  readonly plan: Plan;
  readonly place: PlaceMeasured;
  readonly chair: ChairMeasured;
  /** What is said of the place above. */
  readonly said: string;
}) {
  const { plan, place, chair } = props;
  const frame = frameOf(plan);
  if (frame === null) return null;
  const wide = frame.high.x - frame.low.x;
  const high = frame.high.y - frame.low.y;
  const text = textOf(wide, high);
  const { poses = [], walls = [], spans = [], tightest } = plan;
  const said = sentenceOf(plan.message);
  const tight = tightPose(plan);
  const seated = poses[tight];
  const left = tightest ? `; ${leftWords(tightest.room_mm)} at the tightest point` : '';
  return (
    <figure class="plan">
      <svg
        viewBox={`${frame.low.x} ${-frame.high.y} ${wide} ${high + 2 * text}`}
        role="img"
        aria-label={`Plan of ${place.name} to scale${left}. The numbers stand below.`}
      >
        {poses.map((pose, i) =>
          i === tight ? null : (
            <polygon key={`${pose.at.x} ${pose.at.y} ${pose.heading}`} class="plan-pose" points={pathOf(pose.outline)} />
          ),
        )}
        {seated ? (
          <>
            <Seated pose={seated} chair={chair} />
            <polygon class="plan-pose-tight" points={pathOf(seated.outline)} />
          </>
        ) : null}
        {walls.map(({ from: a, to: b }) => (
          <line key={`${a.x} ${a.y} ${b.x} ${b.y}`} class="plan-wall" x1={a.x} y1={-a.y} x2={b.x} y2={-b.y} />
        ))}
        {poses.map((pose) => (
          <circle key={`${pose.at.x} ${pose.at.y} ${pose.heading}`} class="plan-axle" cx={pose.at.x} cy={-pose.at.y} r={text / 8} />
        ))}
        {spans.map(({ of, from, to }) => (
          <SpanLine key={of} from={down(from)} to={down(to)} words={`${place[of as 'width_mm'] ?? ''} mm`} text={text} />
        ))}
        <ScaleBar left={frame.low.x} top={-frame.low.y} wide={wide} text={text} />
        {tightest ? (
          <TightMark
            at={down(tightest.at)}
            from={down(poses[tight]?.at ?? tightest.at)}
            left={tightest.room_mm}
            low={{ x: frame.low.x, y: -frame.high.y }}
            high={{ x: frame.high.x, y: -frame.low.y }}
            text={text}
          />
        ) : null}
      </svg>
      {said !== '' && said !== props.said ? <p>{said}</p> : null}
      <figcaption>
        To scale, from above; the chair is {chair.width_mm} mm wide. Dashed: the chair on its way. The person sits where it is tightest, the
        point is ringed.
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
