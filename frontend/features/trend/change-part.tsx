import { dateWords, More } from '../../ui';
import { Part, Table } from '../../ui/part';
import type { Titles } from '../../ui/result/titles';
import { countWords, sentenceOf } from '../../ui/words';
import type { Change, Trend } from '../../lib/model.gen';
import { differingWords } from './differing';
import { dateOfDay } from './moments';
import { ArrowWords } from './plot';

const FIGURES: Readonly<Record<string, string>> = {
  'force-rested': 'Force, weakest direction, rested',
  'force-tired': 'Force, weakest direction, tired',
  travel: 'Travel, shortest direction',
  release: 'Slowest release',
  help: 'Levels of help',
};

/** What moved beyond noise since the visit before and since the first; all else is a tap away. */
export function ChangePart(props: { readonly trend: Trend; readonly titles: Titles; readonly days: readonly number[] }) {
  const { trend, titles, days } = props;
  const [first, before, last] = [days[0], days.at(-2), days.at(-1)];
  const shown = (trend.changes ?? []).filter((one) => one.to === last && (one.from === before || one.from === first));
  const beyond = shown.filter((one) => one.direction !== 'same');
  const within = shown.filter((one) => one.direction === 'same');
  const name = (figure: string) => FIGURES[figure] ?? titles.section(figure.replace(/^domain-/, ''));
  const table = (caption: string, list: readonly Change[]) => (
    <Table caption={caption} captionHidden heads={['Figure', 'Change', 'In numbers', 'Between', 'Not the same conditions']}>
      {list.map((change) => (
        <tr key={`${change.quantity} ${change.from}`}>
          <th scope="row">{name(change.quantity)}</th>
          <td>
            <ArrowWords direction={change.direction} />
          </td>
          <td>{sentenceOf(change.message)}</td>
          <td>
            {dateWords(dateOfDay(change.from))} and {dateWords(dateOfDay(change.to))}
          </td>
          <td>{differingWords(trend, change.from, change.to) || '–'}</td>
        </tr>
      ))}
    </Table>
  );
  return (
    <Part title="Change">
      {shown.length === 0 ? <p>Nothing of the last visit was measured or scored before.</p> : null}
      {beyond.length > 0 ? table('Change beyond measuring noise', beyond) : null}
      {shown.length > 0 && beyond.length === 0 ? <p>Nothing changed by more than measuring noise.</p> : null}
      {within.length > 0 ? (
        <More summary={`Within measuring noise: ${countWords(within.length, 'comparison')}`}>
          {table('Within measuring noise', within)}
        </More>
      ) : null}
    </Part>
  );
}
