import { useState } from 'preact/hooks';
import { Banner } from './banner';
import { reasonOf } from './saved';

/** Says in a sentence how the last thing went: `run` resolves to true when it was done, and never rejects. */
export function useAction() {
  const [said, setSaid] = useState<{ readonly done: boolean; readonly text: string } | null>(null);
  const run = async (work: () => Promise<string>): Promise<boolean> => {
    let done = false;
    let text: string;
    try {
      text = await work();
      done = true;
    } catch (error) {
      text = reasonOf(error);
    }
    setSaid({ done, text });
    return done;
  };
  return {
    run,
    line: said ? (
      <Banner tone={said.done ? 'done' : 'caution'} title={said.done ? 'Done' : 'Not done'} live>
        {said.text}
      </Banner>
    ) : null,
  };
}
