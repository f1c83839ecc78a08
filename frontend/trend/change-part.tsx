import { dateWords } from '../parts';
import { Part, Table } from '../results/part';
import type { Titles } from '../results/titles';
import type { Change, TrendView } from './answer';
import { ArrowWords } from './arrow';
import { differingAt } from './differing';
import { dateOfDay } from './moments';

const FIGURES: Readonly<Record<string, string>> = {
  'force-rested': 'Force, weakest direction, rested',
  'force-tired': 'Force, weakest direction, tired',
  travel: 'Travel, shortest direction',
  release: 'Slowest release',
  help: 'Levels of help',
};

/** What moved between the last two visits that can be compared, figure by figure. */
export function ChangePart(props: { readonly trend: TrendView; readonly titles: Titles }) {
  const { trend, titles } = props;
  const latest = [...new Map(trend.changes.map((change) => [change.figure, change])).values()];
  const name = (figure: string) => FIGURES[figure] ?? titles.section(figure.replace(/^domain-/, ''));
  return (
    <Part title="Change since the visit before">
      {latest.length === 0 ? <p>Nothing was measured or scored at two visits yet.</p> : (
        <Table caption="Change since the visit before" captionHidden heads={['Figure', 'From', 'To', 'Change', 'In numbers', 'Not the same conditions']}>
          {latest.map((change) => <ChangeRow key={change.figure} name={name(change.figure)} change={change} differing={differingAt(trend, change.to)} />)}
        </Table>
      )}
    </Part>
  );
}

function ChangeRow(props: { readonly name: string; readonly change: Change; readonly differing: readonly string[] }) {
  const { change } = props;
  return (
    <tr>
      <th scope="row">{props.name}</th>
      <td>{dateWords(dateOfDay(change.from))}</td>
      <td>{dateWords(dateOfDay(change.to))}</td>
      <td><ArrowWords direction={change.direction} /></td>
      <td>{change.sentence}</td>
      <td>{props.differing.length === 0 ? '–' : props.differing.join(', ')}</td>
    </tr>
  );
}
