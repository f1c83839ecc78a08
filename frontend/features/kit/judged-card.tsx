import { More, Sentence } from '../../ui';
import { Facts } from '../../ui/part';
import { VerdictMark } from '../../ui/result/control';
import { plainWords } from '../../ui/words';
import type { Why } from '../../lib/engine/result';
import { unknownWords, type Judged } from './verdicts';

/** One control at one site: both verdicts, the worst reason, all others a tap away. */
export function JudgedCard(props: { readonly judged: Judged; readonly name: string }) {
  const { verdict, whys } = props.judged;
  const unknown = unknownWords(props.judged);
  const [worst, ...rest] = whys;
  const role = verdict.role === 'main' ? 'main choice' : verdict.role === 'fallback' ? 'fallback' : '';
  return (
    <article class={role === '' ? 'choice-card' : 'choice-card choice-card-main'}>
      <div class="choice-card-head">
        <h3>{props.name}</h3>
        {verdict.rank === null ? null : (
          <strong>
            {role === '' ? '' : `${role}, `}place {verdict.rank}
          </strong>
        )}
      </div>
      <Facts
        rows={[
          ['Indoors', <VerdictMark verdict={verdict.indoors} unknown={unknown} />],
          ['Outdoors', <VerdictMark verdict={verdict.outdoors} unknown={unknown} />],
        ]}
      />
      {verdict.sentence === '' ? null : <p>{verdict.sentence}</p>}
      {worst ? <WhyLine why={worst} /> : null}
      {rest.length > 0 ? (
        <More summary={`All reasons (${whys.length})`}>
          {rest.map((why) => (
            <WhyLine key={`${why.rule} ${why.where}`} why={why} />
          ))}
        </More>
      ) : null}
    </article>
  );
}

const RULES: Readonly<Record<string, string>> = {
  noise: 'unintended force',
  release: 'letting go',
  wet: 'moisture',
  'rough-head': 'rough ground',
  'rough-finger': 'rough ground',
  helper: 'helper drives',
  fading: 'fading when tired',
  hold: 'holding',
  base: 'base and mount',
  'none-left': 'what is left',
};

function WhyLine(props: { readonly why: Why }) {
  const { why } = props;
  const rule = RULES[why.rule] ?? plainWords(why.rule);
  const where = why.where === 'both' ? '' : `, ${why.where} only`;
  return (
    <Sentence
      mark={<VerdictMark verdict={why.verdict} unknown="not known yet" />}
      text={`${rule.charAt(0).toUpperCase()}${rule.slice(1)}${where}: ${why.sentence}`}
      change={why.change === '' ? undefined : why.change}
    />
  );
}
