import { dateWords, DoorMark, EffectMark, LevelDoor, levelIndex, levelWord } from '../../ui';
import { Part, Table } from '../../ui/part';
import { levels, type Trend } from '../../lib/model.gen';
import { differingAt, differingWords, everDiffering } from './differing';
import type { Moment } from './moments';
import { AsTable, daysAround, Plot, type Paper } from './plot';

/** Rows under the levels: what forbids driving, and what was not the same as the visit before. */
const STOPS = -1;
const CHANGED = -2;
const DASHES = ['', '7 4', '2 4', '10 3 2 3'] as const;

/** The level of each visit over time, a line for each control and site. */
export function LevelPart(props: { readonly moments: readonly Moment[]; readonly trend: Trend | null }) {
  const { moments, trend } = props;
  const controls = [...new Set(moments.map((moment) => moment.control))];
  return (
    <Part title="Readiness over time">
      <Plot
        label={`Levels of ${moments.length} visits over time; the table below says the same.`}
        days={daysAround(moments.map((moment) => moment.day))}
        values={[-2.4, 4.4]}
        height={20}
        gutter={7.5}
        ticks={[...levels.map((level, i) => [i, levelWord(level)] as const), [STOPS, 'No driving'], [CHANGED, 'Changed']]}
      >
        {(paper) => (
          <>
            {controls.map((control, i) => (
              <path
                key={control}
                class="plot-line"
                fill="none"
                stroke-dasharray={DASHES[i % DASHES.length]}
                d={steps(
                  moments.filter((moment) => moment.control === control),
                  paper,
                )}
              />
            ))}
            {moments.map((moment, i) => (
              <VisitMarks
                key={moment.visit}
                moment={moment}
                paper={paper}
                changed={differingAt(trend, moments[i - 1]?.day, moment.day).map((one) => one.mark)}
              />
            ))}
          </>
        )}
      </Plot>
      <ul class="plot-legend">
        {controls.map((control, i) => (
          <li key={control}>
            <svg class="plot-swatch" viewBox="0 0 36 8" aria-hidden="true">
              <line class="plot-line" x1="0" x2="36" y1="4" y2="4" stroke-dasharray={DASHES[i % DASHES.length]} />
            </svg>
            {control === '' ? 'no control chosen' : control}
          </li>
        ))}
        {everDiffering(trend).map(({ words, mark }) => (
          <li key={words}>
            <b>{mark}</b> {words} changed
          </li>
        ))}
      </ul>
      <AsTable>
        <LevelTable moments={moments} trend={trend} />
      </AsTable>
    </Part>
  );
}

/** A level holds until the next visit of the same control. */
function steps(moments: readonly Moment[], paper: Paper): string {
  return moments
    .map((moment, i) => {
      const [x, y] = [paper.x(moment.day), paper.y(levelIndex(moment.level))];
      return i === 0 ? `M${x} ${y}` : `H${x}V${y}`;
    })
    .join('');
}

function VisitMarks(props: { readonly moment: Moment; readonly paper: Paper; readonly changed: readonly string[] }) {
  const { moment, paper, changed } = props;
  const { em } = paper;
  const x = paper.x(moment.day);
  const y = paper.y(levelIndex(moment.level));
  return (
    <g>
      {moment.interim ? <circle class="plot-open plot-dash" cx={x} cy={y} r={1.2 * em} /> : null}
      <DoorMark level={moment.level} x={x} y={y} size={2 * em} />
      {moment.stops.length > 0 ? (
        <>
          <rect class="plot-full" x={x - 0.75 * em} y={paper.y(STOPS) - 0.75 * em} width={1.5 * em} height={1.5 * em} />
          <text class="plot-text plot-middle plot-on" x={x} y={paper.y(STOPS) + 0.35 * em}>
            {moment.stops.length}
          </text>
        </>
      ) : null}
      {changed.length > 0 ? (
        <text class="plot-text plot-middle plot-strong" x={x} y={paper.y(CHANGED) + 0.32 * em}>
          {changed.join('')}
        </text>
      ) : null}
    </g>
  );
}

function LevelTable(props: { readonly moments: readonly Moment[]; readonly trend: Trend | null }) {
  return (
    <Table
      caption="Level of each visit"
      captionHidden
      heads={['Visit', 'Level', 'Control', 'Forbids driving', 'Not the same as the visit before']}
    >
      {props.moments.map((moment, i) => (
        <tr key={moment.visit}>
          <th scope="row">
            {dateWords(moment.at)}
            {moment.signed ? '' : ', open'}
          </th>
          <td>
            <LevelDoor level={moment.level} size="small" interim={moment.interim} />
          </td>
          <td>{moment.control === '' ? 'none chosen' : moment.control}</td>
          <td>
            {moment.stops.length === 0
              ? 'none'
              : moment.stops.map((stop) => (
                  <div key={stop}>
                    <EffectMark effect="stop" /> {stop}
                  </div>
                ))}
          </td>
          <td>{differingWords(props.trend, props.moments[i - 1]?.day, moment.day)}</td>
        </tr>
      ))}
    </Table>
  );
}
