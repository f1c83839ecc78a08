import { useEffect, useState } from 'preact/hooks';
import { Button, SelectField } from '../../ui';
import { reasonOf } from '../../ui/saved';
import { keyLabel, optionsOf, problemWords } from '../../ui/setting-words';
import { advice as askAdvice } from '../../lib';
import { parseAdvice, type Advice, type Advised } from './advice';

const ways: Readonly<Record<Advised['way'], string>> = { up: '▲ up', down: '▼ down', set: '◆ set' };

function useAdvice(problem: string): Advice | null {
  const [held, setHeld] = useState<{ readonly problem: string; readonly advice: Advice } | null>(null);
  useEffect(() => {
    let here = true;
    if (problem !== '') {
      askAdvice(problem).then(
        (text) => here && setHeld({ problem, advice: parseAdvice(text) }),
        (error: unknown) => here && setHeld({ problem, advice: { basis: reasonOf(error), changes: [] } }),
      );
    }
    return () => {
      here = false;
    };
  }, [problem]);
  return held?.problem === problem ? held.advice : null;
}

function AdvisedRow(props: { readonly advised: Advised; readonly place: number; readonly onTake: () => void }) {
  const { advised } = props;
  return (
    <li class="advised">
      <div>
        <p>
          <strong>
            {props.place}. {keyLabel(advised.key)}: {ways[advised.way]}
          </strong>
          , {advised.step}
        </p>
        <p>{advised.sentence}</p>
        {advised.retest ? <p class="field-hint">After it, time letting go and the stop calls again.</p> : null}
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
      {advice ? (
        <div class="stack" role="status">
          <ol class="plain-list">
            {advice.changes.map((advised, i) => (
              <AdvisedRow key={advised.key} advised={advised} place={i + 1} onTake={() => props.onTake(advised)} />
            ))}
          </ol>
          <p class="field-hint">{advice.basis}</p>
        </div>
      ) : null}
    </section>
  );
}
