import { More } from '..';
import { Facts, Table } from '../part';
import { siteWords } from '../sites';
import { sentenceOf } from '../words';
import { directions, type Quantity, type Result } from '../../lib/model.gen';
import { provenanceOf, figureWords, originWords, sortFigures, statusWords, unitWords, valueWords, type SiteFigures } from './figures';

/** Every computed figure with how it came about. */
export function Figures(props: { readonly result: Result }) {
  const { sites, single } = sortFigures(props.result);
  const said = sites
    .flatMap((site) => site.rows.flatMap((row) => [...row.cells.values()]))
    .filter((figure) => sentenceOf(figure.message) !== '');
  return (
    <>
      {sites.map((site) => (
        <SiteTable key={site.site} site={site} />
      ))}
      {single.length > 0 ? <SingleTable figures={single} /> : null}
      <ProvenanceList
        result={props.result}
        names={[...sites.flatMap((site) => site.rows.map((row) => row.name)), ...single.map((figure) => figure.name)]}
      />
      {said.length > 0 ? (
        <ul class="notes">
          {said.map((figure) => (
            <li key={`${figure.name} ${figure.direction ?? ''}`}>{sentenceOf(figure.message)}</li>
          ))}
        </ul>
      ) : null}
    </>
  );
}

/** Formula, source and status of the figures above, each once, on tap. */
function ProvenanceList(props: { readonly result: Result; readonly names: readonly string[] }) {
  const rows = [...new Set(props.names.flatMap((name) => provenanceOf(props.result, name) ?? []))];
  if (rows.length === 0) return null;
  return (
    <More summary="Formula, source and status of each figure">
      <Facts
        rows={rows.map((provenance) => [
          figureWords(provenance.quantity),
          `${sentenceOf(provenance.formula)}. Source: ${sentenceOf(provenance.source)}. Status: ${statusWords(provenance)}.`,
        ])}
      />
    </More>
  );
}

function SiteTable(props: { readonly site: SiteFigures }) {
  const used = directions.filter((direction) => props.site.rows.some((row) => row.cells.has(direction)));
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

function SingleTable(props: { readonly figures: readonly Quantity[] }) {
  return (
    <Table caption="All together" heads={['Figure', 'Value', 'How']}>
      {props.figures.map((figure) => (
        <tr key={`${figure.name} ${figure.site ?? ''} ${figure.direction ?? ''}`}>
          <th scope="row">
            {figureWords(figure.name)}
            {figure.site ? ` (${siteWords(figure.site)})` : ''}
          </th>
          <td class="num">{`${valueWords(figure)} ${unitWords(figure.unit)}`.trim()}</td>
          <td>{sentenceOf(figure.message) || originWords(figure)}</td>
        </tr>
      ))}
    </Table>
  );
}
