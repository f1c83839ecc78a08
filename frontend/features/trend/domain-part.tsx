import { dateWords } from '../../ui';
import { Part, Table } from '../../ui/part';
import type { Titles } from '../../ui/result/titles';
import type { Domain, Trend } from '../../lib/model.gen';
import type { Moment } from './moments';
import { ArrowWords, AsTable, daysAround, Plot, type Paper } from './plot';

const TICKS = [
  [0, '0'],
  [50, '50'],
  [100, '100'],
] as const;

/** A small drawing for each domain, never one for all of them. */
export function DomainPart(props: { readonly moments: readonly Moment[]; readonly trend: Trend | null; readonly titles: Titles }) {
  const { moments, trend, titles } = props;
  const codes = [
    ...new Set(moments.flatMap((moment) => moment.domains.filter((domain) => domain.applicable > 0).map((domain) => domain.code))),
  ];
  return (
    <Part title="Domain scores over time">
      <p class="quiet-line">
        A full point is a score out of 100. A hollow point with a bar is the range that it can still fall in, where less than 80 % was
        answered.
      </p>
      <div class="plot-grid">
        {codes.map((code) => {
          const change = trend?.changes?.findLast((one) => one.quantity === `domain-${code}` && one.direction !== 'same');
          return (
            <figure key={code} class="plot-small">
              <figcaption>
                {titles.section(code)}
                {change ? (
                  <>
                    {' '}
                    <ArrowWords direction={change.direction} />
                  </>
                ) : null}
              </figcaption>
              <Plot
                label={`${titles.section(code)}: ${moments.map((moment) => scoreWords(domainAt(moment, code))).join(', ')}.`}
                days={daysAround(moments.map((moment) => moment.day))}
                values={[0, 100]}
                ticks={TICKS}
                height={8}
                gutter={2.4}
              >
                {(paper) => <Scores code={code} moments={moments} paper={paper} />}
              </Plot>
            </figure>
          );
        })}
      </div>
      <AsTable>
        <Table caption="Domain scores of each visit" captionHidden heads={['Domain', ...moments.map((moment) => dateWords(moment.at))]}>
          {codes.map((code) => (
            <tr key={code}>
              <th scope="row">{titles.section(code)}</th>
              {moments.map((moment) => (
                <td key={moment.visit} class="num">
                  {scoreWords(domainAt(moment, code))}
                </td>
              ))}
            </tr>
          ))}
        </Table>
      </AsTable>
    </Part>
  );
}

function domainAt(moment: Moment, code: string): Domain | undefined {
  return moment.domains.find((domain) => domain.code === code);
}

function scoreWords(domain: Domain | undefined): string {
  if (!domain || domain.applicable === 0) return 'does not apply';
  return domain.score === undefined ? `${domain.low} to ${domain.high}` : String(domain.score);
}

function Scores(props: { readonly code: string; readonly moments: readonly Moment[]; readonly paper: Paper }) {
  const { paper } = props;
  const r = 0.35 * paper.em;
  const found = props.moments.map((moment) => ({ x: paper.x(moment.day), visit: moment.visit, domain: domainAt(moment, props.code) }));
  const line = found.flatMap(({ x, domain }) => (domain?.score === undefined ? [] : [`${x} ${paper.y(domain.score)}`]));
  return (
    <>
      {line.length > 1 ? <path class="plot-line" fill="none" d={`M${line.join('L')}`} /> : null}
      {found.map(({ x, visit, domain }) => {
        if (!domain || domain.applicable === 0) return null;
        if (domain.score !== undefined) return <circle key={visit} class="plot-full" cx={x} cy={paper.y(domain.score)} r={r} />;
        return (
          <g key={visit}>
            <line class="plot-line" x1={x} x2={x} y1={paper.y(domain.low)} y2={paper.y(domain.high)} />
            <circle class="plot-open" cx={x} cy={paper.y((domain.low + domain.high) / 2)} r={r} />
          </g>
        );
      })}
    </>
  );
}
