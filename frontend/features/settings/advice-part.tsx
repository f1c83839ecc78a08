import { useEffect, useState } from 'preact/hooks';
import { Button, SelectField } from '../../ui';
import { reasonOf } from '../../ui/saved';
import { keyLabel, optionsOf, problemWords } from '../../ui/setting-words';
import { sentenceOf } from '../../ui/words';
import { advice as askAdvice } from '../../lib';
import { problems, type Advice, type Advised } from '../../lib/model.gen';

const ways: Readonly<Record<string, string>> = { up: '▲ up', down: '▼ down' };

/** What the engine advises, or why it does not; null while it is asked and where no problem is named. */
function useAdvice(named: string): Advice | string | null {
  const problem = problems.find((one) => one === named);
  const [held, setHeld] = useState<{ readonly problem: string; readonly advice: Advice | string } | null>(null);
  useEffect(() => {
    let here = true;
    if (problem !== undefined) {
      askAdvice(problem).then(
        (advice) => here && setHeld({ problem, advice }),
        (error: unknown) => here && setHeld({ problem, advice: reasonOf(error) }),
      );
    }
    return () => {
      here = false;
    };
  }, [problem]);
  return held !== null && held.problem === problem ? held.advice : null;
}

function AdvisedRow(props: { readonly advised: Advised; readonly place: number; readonly onTake: () => void }) {
  const { advised } = props;
  return (
    <li class="advised">
      <div>
        <p>
          <strong>
            {props.place}. {keyLabel(advised.key)}: {ways[advised.way] ?? '◆ set'}
          </strong>
          , {sentenceOf(advised.step)}
        </p>
        <p>{sentenceOf(advised.message)}</p>
        {advised.retests?.length ? <p class="field-hint">After this change, time letting go and the stop calls again.</p> : null}
      </div>
      <Button onPress={props.onTake} label={`Change this: ${keyLabel(advised.key)}`}>
        Change this
      </Button>
    </li>
  );
}

/** What was observed, and which settings are usually tried for it. */
export function AdvicePart(props: {
  readonly problem: string;
  readonly onProblem: (problem: string) => void;
  readonly onTake: (advised: Advised) => void;
}) {
  const advice = useAdvice(props.problem);
  return (
    <section aria-labelledby="advice">
      <h2 id="advice">What was observed</h2>
      <SelectField label="Problem" value={props.problem} options={optionsOf(problemWords, 'Choose …')} onChange={props.onProblem} />
      {advice === null ? null : typeof advice === 'string' ? (
        <p class="field-hint" role="status">
          {advice}
        </p>
      ) : (
        <div class="stack" role="status">
          <ol class="plain-list">
            {advice.changes.map((advised, i) => (
              <AdvisedRow key={advised.key} advised={advised} place={i + 1} onTake={() => props.onTake(advised)} />
            ))}
          </ol>
          <p class="field-hint">{sentenceOf(advice.rests)}</p>
        </div>
      )}
    </section>
  );
}
