import { More, Sentence } from '../../ui';
import { Facts } from '../../ui/part';
import { VerdictMark } from '../../ui/result/control';
import { plainWords, sentenceOf } from '../../ui/words';
import type { Choice, Reason } from '../../lib/model.gen';
import { choiceWords, unknownWords } from './verdicts';

/** One control at one site: both verdicts, the worst reason, all others a tap away. */
export function JudgedCard(props: { readonly choice: Choice; readonly name: string }) {
  const { choice } = props;
  const unknown = unknownWords(choice);
  const said = choiceWords(choice);
  const [worst, ...rest] = choice.reasons;
  const role = choice.role === 'main' ? 'main choice' : choice.role === 'fallback' ? 'fallback' : '';
  return (
    <article class={role === '' ? 'choice-card' : 'choice-card choice-card-main'}>
      <div class="choice-card-head">
        <h3>{props.name}</h3>
        {choice.rank === undefined ? null : (
          <strong>
            {role === '' ? '' : `${role}, `}place {choice.rank}
          </strong>
        )}
      </div>
      <Facts
        rows={[
          ['Indoors', <VerdictMark verdict={choice.indoors} unknown={unknown} />],
          ['Outdoors', <VerdictMark verdict={choice.outdoors} unknown={unknown} />],
        ]}
      />
      {said === '' ? null : <p>{said}</p>}
      {worst ? <WhyLine reason={worst} /> : null}
      {rest.length > 0 ? (
        <More summary={`All reasons (${choice.reasons.length})`}>
          {rest.map((reason) => (
            <WhyLine key={`${reason.rule} ${reason.outdoors_only === true}`} reason={reason} />
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
  odd: 'odd readings',
  idea: 'nobody measured one',
  hits: 'commands that come',
  unasked: 'commands that nobody asked',
  steps: 'steps to a command',
  latched: 'how it drives',
};

function WhyLine(props: { readonly reason: Reason }) {
  const { reason } = props;
  const rule = RULES[reason.rule] ?? plainWords(reason.rule);
  const where = reason.outdoors_only ? ', outdoors only' : '';
  return (
    <Sentence
      mark={<VerdictMark verdict={reason.verdict} unknown="not known yet" />}
      text={`${rule.charAt(0).toUpperCase()}${rule.slice(1)}${where}: ${sentenceOf(reason.message)}`}
      change={sentenceOf(reason.change) || undefined}
    />
  );
}
