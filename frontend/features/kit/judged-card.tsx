import { More, Sentence } from '../../ui';
import { ControlPicture } from '../../ui/pictures/control-picture';
import { VerdictMark } from '../../ui/result/control';
import { plainWords, sentenceOf } from '../../ui/words';
import type { Choice, Reason } from '../../lib/model.gen';
import { choiceWords, linesOf, unknownWords } from './verdicts';

/** One control at one site in three lines: can she use it, what decides, what next. All else is a tap away. */
export function JudgedCard(props: { readonly choice: Choice; readonly name: string; readonly kind: string }) {
  const { choice } = props;
  const said = choiceWords(choice);
  const role = choice.role === 'main' ? 'main choice' : choice.role === 'fallback' ? 'fallback' : '';
  const { rest } = linesOf(choice);
  return (
    <article class={role === '' ? 'choice-card' : 'choice-card choice-card-main'}>
      <div class="choice-card-head">
        <ControlPicture kind={props.kind} />
        <h3>{props.name}</h3>
        {choice.rank === undefined ? null : (
          <strong>
            {role === '' ? '' : `${role}, `}place {choice.rank}
          </strong>
        )}
      </div>
      <ThreeLines choice={choice} />
      {said === '' && rest.length === 0 ? null : (
        <More summary={`All that was found (${choice.reasons.length})`}>
          {said === '' ? null : <p>{said}</p>}
          {rest.map((reason) => (
            <WhyLine key={`${reason.rule} ${reason.outdoors_only === true}`} reason={reason} />
          ))}
        </More>
      )}
    </article>
  );
}

/** Can she use it, how good is it and why, and what comes next. */
export function ThreeLines(props: { readonly choice: Choice }) {
  const { choice } = props;
  const unknown = unknownWords(choice);
  const { how, next } = linesOf(choice);
  return (
    <>
      <p>
        Indoors <VerdictMark verdict={choice.indoors} unknown={unknown} />, outdoors{' '}
        <VerdictMark verdict={choice.outdoors} unknown={unknown} />
      </p>
      {how ? <p>{whyText(how)}</p> : null}
      {next === '' ? null : (
        <p>
          <strong>Next:</strong> {next}
        </p>
      )}
    </>
  );
}

const RULES: Readonly<Record<string, string>> = {
  noise: 'force not meant',
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
  'ruled-out': 'a site that is ruled out',
  'every-way': 'directions that are left out',
  steps: 'steps to a command',
  latched: 'how it drives',
};

/** What a rule says, with its name in front. */
function whyText(reason: Reason): string {
  const rule = RULES[reason.rule] ?? plainWords(reason.rule);
  const where = reason.outdoors_only ? ', outdoors only' : '';
  return `${rule.charAt(0).toUpperCase()}${rule.slice(1)}${where}: ${sentenceOf(reason.message)}`;
}

function WhyLine(props: { readonly reason: Reason }) {
  const { reason } = props;
  return (
    <Sentence
      mark={<VerdictMark verdict={reason.verdict} unknown="not known yet" />}
      text={whyText(reason)}
      change={sentenceOf(reason.change) || undefined}
    />
  );
}
