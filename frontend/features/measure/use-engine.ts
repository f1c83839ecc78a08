import { useEffect, useRef, useState } from 'preact/hooks';
import { roseOf, runQuantities, summariseSeries } from '../../lib';
import type { Quantity, Rose, RoseQuestion, RunTimed, Series, SeriesSummary } from '../../lib/model.gen';

/** The engine's answer to a question; null until it has come, and when it does not come. */
function useAnswer<Question, Answer>(ask: (question: Question) => Promise<Answer>, question: Question): Answer | null {
  const asked = JSON.stringify(question);
  const [held, setHeld] = useState<{ readonly asked: string; readonly answer: Answer | null }>({ asked: '', answer: null });
  useEffect(() => {
    let here = true;
    ask(question).then(
      (answer) => here && setHeld({ asked, answer }),
      () => here && setHeld({ asked, answer: null }),
    );
    return () => {
      here = false;
    };
  }, [ask, asked]);
  return held.asked === asked ? held.answer : null;
}

/** The figures of the drawing of a site; the last ones stand until the next are there. */
export function useRose(question: RoseQuestion): Rose | null {
  const answer = useAnswer(roseOf, question);
  const last = useRef<{ readonly at: string; readonly rose: Rose } | null>(null);
  const at = `${question.what} ${question.site} ${question.supported}`;
  if (answer !== null) last.current = { at, rose: answer };
  return answer ?? (last.current?.at === at ? last.current.rose : null);
}

/** What the engine says of each series; a series without an answer is undefined. */
export function useStandings(list: readonly Series[]): readonly (SeriesSummary | undefined)[] {
  return useAnswer(summariseSeries, list) ?? [];
}

/** The figures of a run that is being driven; empty until the engine has answered. */
export function useRunFigures(run: RunTimed): readonly Quantity[] {
  const answer = useAnswer(runQuantities, run);
  const [last, setLast] = useState<readonly Quantity[]>([]);
  useEffect(() => {
    // The clock asks anew each second; the last answer stands until the next is there.
    if (answer !== null) setLast(answer);
  }, [answer]);
  return last;
}
