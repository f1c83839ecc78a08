import { Banner, dateWords, More, numberWords, TextField } from '../../ui';
import { Part, Table } from '../../ui/part';
import { statusWords } from '../../ui/result/figures';
import { Term } from '../../ui/term';
import { sentenceOf } from '../../ui/words';
import type { BandPoint, Trend } from '../../lib/model.gen';
import { LookLine } from './look-line';
import { dateOfDay, deliveryOf, type Moment, type Present } from './moments';
import { AsTable, Plot, valueTicks, type Paper } from './plot';

interface WeeksProps {
  readonly moments: readonly Moment[];
  readonly present: Present | null;
  readonly trend: Trend | null;
  readonly judged: string;
  readonly onJudge: (loss: string) => void;
}

/** How long the planned control may stay light enough, as a band and never as a date. */
export function WeeksPart(props: WeeksProps) {
  const { present, trend } = props;
  const said = sentenceOf(trend?.message);
  return (
    <Part title="Weeks left">
      {present === null ? (
        <p>Choose a control and a site in a visit first: the force that it needs is the measure.</p>
      ) : (
        <p class="quiet-line">
          {present.words}: {numberWords(present.operate)} gf to full command. Touch a word for its meaning: <Term id="usable-force" />,{' '}
          <Term id="weakest-direction" />.
        </p>
      )}
      {said === '' ? null : <p class="lead-sentence">{said}</p>}
      {trend?.advice?.length ? (
        <Banner tone="caution" title="It may become too heavy before it comes">
          <ul>
            {trend.advice.map(sentenceOf).map((sentence) => (
              <li key={sentence}>{sentence}</li>
            ))}
          </ul>
        </Banner>
      ) : null}
      {trend?.recheck ? <LookLine look={trend.recheck} /> : null}
      {trend && present && trend.usable?.length ? <Drawing {...props} trend={trend} present={present} /> : null}
      {present && trend && trend.line?.source !== 'own-data' ? (
        <TextField
          label="Judged loss of force a week, gf"
          inputMode="decimal"
          value={props.judged}
          onInput={props.onJudge}
          maxLength={6}
          hint="Counts only while the visits give no line of their own. It is tried out here and not kept."
        />
      ) : null}
      {trend?.notes?.map(sentenceOf).map((note) => (
        <p key={note}>{note}</p>
      ))}
      {trend?.provenance?.length ? (
        <More summary="Formula and source">
          {trend.provenance.map((provenance) => (
            <p key={provenance.quantity}>
              {sentenceOf(provenance.formula)}. {sentenceOf(provenance.source)}. {statusWords(provenance)}.
            </p>
          ))}
        </More>
      ) : null}
    </Part>
  );
}

function Drawing(props: WeeksProps & { readonly trend: Trend; readonly present: Present }) {
  const { trend, present, moments } = props;
  const { usable = [], reaches = [], band = [] } = trend;
  const last = usable.at(-1)?.day ?? 0;
  const delivery = deliveryOf(moments);
  const first = usable[0]?.day ?? last;
  const until = Math.max(last + 56, (delivery ?? last) + 14, band.at(-1)?.day ?? last);
  const most = 1.1 * Math.max(3 * present.operate, ...usable.map(({ force }) => force), ...band.map(({ middle }) => middle));
  return (
    <>
      <Plot
        label={`Usable force of ${usable.length} visits with what the control asks, 2 and 3 times that. ${sentenceOf(trend.message)}`}
        days={[first, until]}
        values={[0, most]}
        ticks={valueTicks(most)}
        height={18}
        gutter={3.5}
      >
        {(paper) => (
          <>
            {band.length > 1 ? <Band paper={paper} band={band} /> : null}
            {[3, 2, 1].map((reserve) => (
              <ReserveLine key={reserve} paper={paper} reserve={reserve} force={reserve * present.operate} />
            ))}
            {delivery === null ? null : <Delivery paper={paper} day={delivery} />}
            {usable.map(({ day, force }) => (
              <circle key={day} class="plot-full" cx={paper.x(day)} cy={paper.y(force)} r={0.4 * paper.em} />
            ))}
          </>
        )}
      </Plot>
      <p class="quiet-line">
        Force in gf. Points are visits
        {bandWords(trend)}.
      </p>
      <AsTable>
        <Table caption="Usable force at each visit" captionHidden heads={['Visit', 'Usable force, gf']}>
          {usable.map(({ day, force }) => (
            <tr key={day}>
              <th scope="row">{dateWords(dateOfDay(day))}</th>
              <td class="num">{numberWords(force, 1)}</td>
            </tr>
          ))}
        </Table>
        {band.length > 1 ? (
          <Table caption="How the usable force may go on, gf" heads={['Day', 'At least', 'By the line', 'At most']}>
            {band
              .filter(({ day }) => day >= last)
              .map(({ day, low, middle, high }) => (
                <tr key={day}>
                  <th scope="row">{dateWords(dateOfDay(day))}</th>
                  <td class="num">{numberWords(low, 0)}</td>
                  <td class="num">{numberWords(middle, 0)}</td>
                  <td class="num">{numberWords(high, 0)}</td>
                </tr>
              ))}
          </Table>
        ) : null}
        <ul class="notes">
          {reaches.map((reach) => (
            <li key={reach.reserve}>{sentenceOf(reach.message)}</li>
          ))}
          {delivery === null ? null : <li>Delivery expected about {dateWords(dateOfDay(delivery))}.</li>}
        </ul>
      </AsTable>
    </>
  );
}

function bandWords(trend: Trend): string {
  if (!trend.band) return '';
  return trend.line?.source === 'own-data'
    ? '; the line is what they say together, and the true force lies in the hatched band nine times in ten'
    : '; line and hatched band are judged, not measured';
}

/** The line through the visits and on, and the band in which the truth lies. */
function Band(props: { readonly paper: Paper; readonly band: readonly BandPoint[] }) {
  const { paper, band } = props;
  const path = (points: readonly BandPoint[], value: (point: BandPoint) => number) =>
    points.map((point) => `${paper.x(point.day)} ${paper.y(value(point))}`).join('L');
  const edge = `${path(band, (point) => point.high)}L${path(band.toReversed(), (point) => point.low)}`;
  return (
    <g clip-path={`url(#${paper.id}-clip)`}>
      <defs>
        <clipPath id={`${paper.id}-clip`}>
          <rect x={paper.left} y={paper.top} width={paper.right - paper.left} height={paper.bottom - paper.top} />
        </clipPath>
        <pattern id={`${paper.id}-hatch`} width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <line class="plot-hatch" y2="7" />
        </pattern>
      </defs>
      <path d={`M${edge}Z`} fill={`url(#${paper.id}-hatch)`} class="plot-band" />
      <path class="plot-line" fill="none" d={`M${path(band, (point) => point.middle)}`} />
    </g>
  );
}

function ReserveLine(props: { readonly paper: Paper; readonly reserve: number; readonly force: number }) {
  const { paper, force } = props;
  return (
    <>
      <line class="plot-line plot-dash" x1={paper.left} x2={paper.right} y1={paper.y(force)} y2={paper.y(force)} />
      <text class="plot-text plot-halo" x={paper.left + 0.4 * paper.em} y={paper.y(force) - 0.3 * paper.em}>
        {props.reserve === 1 ? 'what the control asks' : `${props.reserve} times that`}
      </text>
    </>
  );
}

function Delivery(props: { readonly paper: Paper; readonly day: number }) {
  const { paper } = props;
  const x = paper.x(props.day);
  return (
    <>
      <line class="plot-line plot-dots" x1={x} x2={x} y1={paper.top} y2={paper.bottom} />
      <text class="plot-text plot-end plot-halo" x={x - 0.4 * paper.em} y={paper.top + 0.9 * paper.em}>
        delivery expected
      </text>
    </>
  );
}
