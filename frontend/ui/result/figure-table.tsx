import { More } from '..';
import { Facts, Table } from '../part';
import { siteWords } from '../sites';
import type { Figure, ResultView } from '../../lib/engine/result';
import { basisOf, DIRECTIONS, figureWords, sortFigures, unitWords, valueWords, type SiteFigures } from './figures';

/** Every computed figure with how it came about. */
export function Figures(props: { readonly result: ResultView }) {
  const { sites, single } = sortFigures(props.result);
  const said = sites.flatMap((site) => site.rows.flatMap((row) => [...row.cells.values()])).filter((figure) => figure.sentence !== '');
  return (
    <>
      {sites.map((site) => (
        <SiteTable key={site.site} site={site} />
      ))}
      {single.length > 0 ? <SingleTable figures={single} /> : null}
      <Bases
        result={props.result}
        names={[...sites.flatMap((site) => site.rows.map((row) => row.name)), ...single.map((figure) => figure.name)]}
      />
      {said.length > 0 ? (
        <ul class="notes">
          {said.map((figure) => (
            <li key={`${figure.name} ${figure.direction ?? ''}`}>{figure.sentence}</li>
          ))}
        </ul>
      ) : null}
    </>
  );
}

/** Formula, source and status of the figures above, each once, on tap. */
function Bases(props: { readonly result: ResultView; readonly names: readonly string[] }) {
  const bases = [...new Set(props.names.flatMap((name) => basisOf(props.result, name) ?? []))];
  if (bases.length === 0) return null;
  return (
    <More summary="Formula, source and status of each figure">
      <Facts
        rows={bases.map(({ figure, formula, source, status }) => [
          figureWords(figure),
          `${formula}. Source: ${source}. Status: ${status}.`,
        ])}
      />
    </More>
  );
}

function SiteTable(props: { readonly site: SiteFigures }) {
  const used = DIRECTIONS.filter((direction) => props.site.rows.some((row) => row.cells.has(direction)));
  return (
    <Table caption={`At the ${siteWords(props.site.site)}`} heads={['Figure', ...used]}>
      {props.site.rows.map((row) => (
        <tr key={row.name}>
          <th scope="row">
            {figureWords(row.name)}
            {unitWords(row.unit) === '' ? '' : `, ${unitWords(row.unit)}`}
          </th>
          {used.map((direction) => (
            <td key={direction} class="num">
              {valueWords(row.cells.get(direction))}
            </td>
          ))}
        </tr>
      ))}
    </Table>
  );
}

function SingleTable(props: { readonly figures: readonly Figure[] }) {
  return (
    <Table caption="All together" heads={['Figure', 'Value', 'How']}>
      {props.figures.map((figure) => (
        <tr key={`${figure.name} ${figure.site} ${figure.direction ?? ''}`}>
          <th scope="row">
            {figureWords(figure.name)}
            {figure.site === '-' ? '' : ` (${siteWords(figure.site)})`}
          </th>
          <td class="num">{`${valueWords(figure)} ${unitWords(figure.unit)}`.trim()}</td>
          <td>{figure.sentence === '' ? figure.basis : figure.sentence}</td>
        </tr>
      ))}
    </Table>
  );
}
