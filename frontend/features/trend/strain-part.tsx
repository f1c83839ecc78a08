import { dateWords, numberWords } from '../../ui';
import { Part, Table } from '../../ui/part';
import type { Moment } from './moments';
import { AsTable, daysAround, Plot, valueTicks, type Tick } from './plot';

/** Pain and hours of driving over time, one drawing under the other. */
export function StrainPart(props: { readonly moments: readonly Moment[] }) {
  const { moments } = props;
  const hours = moments.flatMap((moment) => moment.hours ?? []);
  const asked = moments.some((moment) => moment.pain !== null) || hours.length > 0;
  if (!asked)
    return (
      <Part title="Strain">
        <p>Neither pain at the driving site nor hours of driving were asked yet.</p>
      </Part>
    );
  const mostHours = Math.max(4, ...hours);
  return (
    <Part title="Strain">
      <Series
        title="Pain at the driving site, 0 to 10"
        moments={moments}
        valueOf={(moment) => moment.pain}
        most={10}
        ticks={[
          [0, '0'],
          [5, '5'],
          [10, '10'],
        ]}
      />
      <Series
        title="Hours of driving a day"
        moments={moments}
        valueOf={(moment) => moment.hours}
        most={mostHours}
        ticks={valueTicks(mostHours, ' h')}
      />
      <AsTable>
        <Table caption="Strain at each visit" captionHidden heads={['Visit', 'Pain, 0 to 10', 'Hours of driving a day', 'Control']}>
          {moments.map((moment) => (
            <tr key={moment.visit}>
              <th scope="row">{dateWords(moment.at)}</th>
              <td class="num">{moment.pain === null ? 'not asked' : numberWords(moment.pain)}</td>
              <td class="num">{moment.hours === null ? 'not asked' : numberWords(moment.hours)}</td>
              <td>{moment.control}</td>
            </tr>
          ))}
        </Table>
      </AsTable>
    </Part>
  );
}

function Series(props: {
  readonly title: string;
  readonly moments: readonly Moment[];
  readonly valueOf: (moment: Moment) => number | null;
  readonly most: number;
  readonly ticks: readonly Tick[];
}) {
  const found = props.moments.flatMap((moment) => {
    const value = props.valueOf(moment);
    return value === null ? [] : [{ day: moment.day, value, visit: moment.visit }];
  });
  return (
    <figure class="plot-small">
      <figcaption>{props.title}</figcaption>
      {found.length === 0 ? (
        <p>Not asked yet.</p>
      ) : (
        <Plot
          label={`${props.title}: ${found.map(({ value }) => value).join(', ')}.`}
          days={daysAround(props.moments.map((moment) => moment.day))}
          values={[0, props.most]}
          ticks={props.ticks}
          height={9}
          gutter={3}
        >
          {(paper) => (
            <>
              <path class="plot-line" fill="none" d={`M${found.map(({ day, value }) => `${paper.x(day)} ${paper.y(value)}`).join('L')}`} />
              {found.map(({ day, value, visit }) => (
                <circle key={visit} class="plot-full" cx={paper.x(day)} cy={paper.y(value)} r={0.35 * paper.em} />
              ))}
            </>
          )}
        </Plot>
      )}
    </figure>
  );
}
