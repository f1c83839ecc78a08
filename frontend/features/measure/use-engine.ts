import { useEffect, useMemo, useState } from 'preact/hooks';
import { repeats, runFigures } from '../../lib';
import { parseFigures, type Figure } from '../../lib/engine/result';
import { readStandings, seriesText, type Series, type Standing } from './repeats';

/** The engine's answer to a text; null until it has come, and when it does not come. */
function useAnswer(ask: (text: string) => Promise<string>, text: string): string | null {
  const [held, setHeld] = useState<{ readonly text: string; readonly answer: string | null }>({ text: '', answer: null });
  useEffect(() => {
    let here = true;
    ask(text).then(
      (answer) => here && setHeld({ text, answer }),
      () => here && setHeld({ text, answer: null }),
    );
    return () => {
      here = false;
    };
  }, [ask, text]);
  return held.text === text ? held.answer : null;
}

/** What the engine says of each series; a series without an answer is undefined. */
export function useStandings(list: readonly Series[]): readonly (Standing | undefined)[] {
  const answer = useAnswer(repeats, seriesText(list));
  return useMemo(() => (answer === null ? [] : readStandings(answer)), [answer]);
}

/** The figures of a run that is being driven; empty until the engine has answered. */
export function useRunFigures(line: string): readonly Figure[] {
  const answer = useAnswer(runFigures, line);
  const [last, setLast] = useState<readonly Figure[]>([]);
  useEffect(() => {
    // The clock asks anew each second; the last answer stands until the next is there.
    if (answer !== null) setLast(parseFigures(answer));
  }, [answer]);
  return last;
}
