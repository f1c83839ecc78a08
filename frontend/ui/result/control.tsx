import { More, Sentence } from '..';
import { classWords } from '../control-classes';
import { Facts, Part, Table } from '../part';
import type { Reason, Result } from '../../lib/model.gen';
import { Term } from '../term';
import { sentenceOf } from '../words';
import { Figures } from './figure-table';
import { figuresOf } from './figures';
import { VERDICT_WORDS, verdictOf, type Verdict } from './words';

/** The verdict on the chosen control and site, the worst reason first. */
export function Control(props: { readonly result: Result }) {
  const { control, reasons, classes } = props.result;
  return (
    <Part title="Control at the chosen site">
      <Facts
        rows={[
          ['Indoors', <VerdictMark verdict={control.indoors} />],
          ['Outdoors', <VerdictMark verdict={control.outdoors} />],
        ]}
      />
      <p class="lead-sentence">{sentenceOf(control.message)}</p>
      <Reasons reasons={reasons} />
      {classes.length > 0 ? <Classes result={props.result} /> : null}
      {figuresOf(props.result).length > 0 ? (
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
  readonly verdict: string;
  /** What is said when there is none. */
  readonly unknown?: string | undefined;
}) {
  const verdict = verdictOf(props.verdict);
  return (
    <span class={`verdict verdict-${verdict}`}>
      <span aria-hidden="true">{SHAPES[verdict]} </span>
      {verdict === 'unknown' && props.unknown ? props.unknown : VERDICT_WORDS[verdict]}
    </span>
  );
}

const WORST_FIRST: readonly Verdict[] = ['not-feasible', 'marginal', 'unknown', 'feasible'];

function Reasons(props: { readonly reasons: readonly Reason[] }) {
  const rank = (reason: Reason) => WORST_FIRST.indexOf(verdictOf(reason.verdict));
  const sorted = [...props.reasons].sort((a, b) => rank(a) - rank(b));
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
      text={sentenceOf(reason.message)}
      change={sentenceOf(reason.change) || undefined}
    />
  );
}

function Classes(props: { readonly result: Result }) {
  return (
    <>
      <h3>Kinds of control at this site</h3>
      <Table caption="Kinds of control at this site" captionHidden heads={['Kind', 'Does it work?', 'Times what it asks', 'Why']}>
        {props.result.classes.map((one) => (
          <tr key={one.id}>
            <th scope="row">{classWords(one.id)}</th>
            <td>
              <VerdictMark verdict={one.verdict} />
            </td>
            <td class="num">{one.reserve ?? '–'}</td>
            <td>{sentenceOf(one.message)}</td>
          </tr>
        ))}
      </Table>
      <p class="quiet-line">
        Touch a word for its meaning: <Term id="works" />, <Term id="usable-force" />. The order says nothing about what to choose: the
        therapist decides.
      </p>
    </>
  );
}
