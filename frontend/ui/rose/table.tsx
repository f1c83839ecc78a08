import type { Rose, RoseSeries } from '../../lib/model.gen';
import { numberWords, sentenceOf } from '../words';
import { standing } from './standing';

function seriesWords(one: RoseSeries | undefined): string {
  if (one === undefined) return 'not measured';
  const range = one.apart ? `, from ${numberWords(one.low)} to ${numberWords(one.high)}: far apart` : '';
  return `${numberWords(one.value)} (${one.count === 1 ? '1 reading' : `${one.count} readings`}${range})`;
}

/** The figures of a rose as one sentence, for who does not see it. */
export function roseWords(rose: Rose, words: (id: string) => string): string {
  const said = rose.arms
    .filter((arm) => arm.rested ?? arm.tired)
    .map((arm) =>
      [
        words(arm.id),
        arm.rested ? `rested ${numberWords(arm.rested.value)}` : '',
        arm.tired ? `tired ${numberWords(arm.tired.value)}` : '',
        arm.asked === undefined ? '' : `asked ${numberWords(arm.asked)}`,
        standing(arm),
      ]
        .filter((part) => part !== '')
        .join(' '),
    );
  return said.length === 0 ? 'Nothing is measured here yet.' : `In ${rose.unit}: ${said.join('; ')}.`;
}

/** The figures of a rose in rows: the same for eyes and, out of sight, for screen readers. */
export function RoseTable(props: {
  readonly rose: Rose;
  readonly caption: string;
  readonly words: (id: string) => string;
  readonly unseen?: boolean | undefined;
}) {
  const { rose } = props;
  const scrolled = props.unseen
    ? { class: 'unseen' }
    : { class: 'table-wrap', tabIndex: 0, role: 'region' as const, 'aria-label': props.caption };
  const asked = rose.arms.some((arm) => arm.asked !== undefined);
  return (
    <div {...scrolled}>
      <table class="table">
        <caption>
          {props.caption}, in {rose.unit}
        </caption>
        <thead>
          <tr>
            <th scope="col">Where</th>
            <th scope="col">Rested</th>
            <th scope="col">Tired</th>
            {asked ? <th scope="col">Asked by the control</th> : null}
          </tr>
        </thead>
        <tbody>
          {rose.arms.map((arm) => (
            <tr key={arm.id}>
              <th scope="row">{props.words(arm.id)}</th>
              <td>{seriesWords(arm.rested)}</td>
              <td>{arm.assumed ? `assumed ${numberWords(arm.usable ?? 0)}` : seriesWords(arm.tired)}</td>
              {asked ? (
                <td>
                  {arm.asked === undefined ? 'not needed' : numberWords(arm.asked)}
                  {standing(arm) === '' ? '' : `: ${standing(arm)}`}
                  {arm.message ? <span class="rose-sentence">{sentenceOf(arm.message)}</span> : null}
                </td>
              ) : null}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
