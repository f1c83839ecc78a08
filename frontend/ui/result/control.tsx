import { More, Sentence } from '..';
import { classWords } from '../control-classes';
import { Facts, Part, Table } from '../part';
import type { Reason, ResultView, Verdict } from '../../lib/engine/result';
import { Figures } from './figure-table';
import { VERDICT_WORDS } from './words';

/** The verdict on the chosen control and site, the worst reason first. */
export function Control(props: { readonly result: ResultView }) {
  const { control, reasons, classes, figures } = props.result;
  return (
    <Part title="Control at the chosen site">
      {control ? (
        <>
          <Facts
            rows={[
              ['Indoors', <VerdictMark verdict={control.indoors} />],
              ['Outdoors', <VerdictMark verdict={control.outdoors} />],
            ]}
          />
          <p class="lead-sentence">{control.sentence}</p>
        </>
      ) : (
        <p>No control and site have been chosen yet.</p>
      )}
      <Reasons reasons={reasons} />
      {classes.length > 0 ? <Classes result={props.result} /> : null}
      {figures.length > 0 ? (
        <More summary="All figures behind this">
          <Figures result={props.result} />
        </More>
      ) : null}
    </Part>
  );
}

const SHAPES: Readonly<Record<Verdict, string>> = { feasible: '●', marginal: '◐', 'not-feasible': '○', unknown: '?' };

/** A verdict in words with its own shape. */
export function VerdictMark(props: {
  readonly verdict: Verdict;
  /** What is said when there is none. */
  readonly unknown?: string | undefined;
}) {
  return (
    <span class={`verdict verdict-${props.verdict}`}>
      <span aria-hidden="true">{SHAPES[props.verdict]} </span>
      {props.verdict === 'unknown' && props.unknown ? props.unknown : VERDICT_WORDS[props.verdict]}
    </span>
  );
}

const WORST_FIRST: readonly Verdict[] = ['not-feasible', 'marginal', 'unknown', 'feasible'];

function Reasons(props: { readonly reasons: readonly Reason[] }) {
  const sorted = [...props.reasons].sort((a, b) => WORST_FIRST.indexOf(a.verdict) - WORST_FIRST.indexOf(b.verdict));
  const [first, ...rest] = sorted;
  if (!first) return null;
  return (
    <div class="reasons">
      <ReasonLine reason={first} />
      {rest.length > 0 ? (
        <More summary={`All reasons (${sorted.length})`}>
          {rest.map((reason) => (
            <ReasonLine key={reason.rule} reason={reason} />
          ))}
        </More>
      ) : null}
    </div>
  );
}

function ReasonLine(props: { readonly reason: Reason }) {
  const { reason } = props;
  return (
    <Sentence
      mark={<VerdictMark verdict={reason.verdict} />}
      text={reason.sentence}
      change={reason.change === '' ? undefined : reason.change}
    />
  );
}

function Classes(props: { readonly result: ResultView }) {
  return (
    <>
      <h3>Kinds of control at this site</h3>
      <Table caption="Kinds of control at this site" captionHidden heads={['Kind', 'Verdict', 'Reserve', 'Why']}>
        {props.result.classes.map((one) => (
          <tr key={one.id}>
            <th scope="row">{classWords(one.id)}</th>
            <td>
              <VerdictMark verdict={one.verdict} />
            </td>
            <td class="num">{one.reserve ?? '–'}</td>
            <td>{one.sentence}</td>
          </tr>
        ))}
      </Table>
      <p class="quiet-line">The order says nothing about what to choose: the therapist decides.</p>
    </>
  );
}
