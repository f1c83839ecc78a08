import { useEffect, useState } from 'preact/hooks';
import { syncState } from '../lib';

/**
 * Names the moment: another text when it is worth asking the server again, empty
 * while there is no network. `often` is at the end of each exchange, for what
 * somebody looks at; else every ten minutes and when something was sent or dealt with.
 */
export function moment(often: boolean): string {
  const { asked, online, running, lastSent, waiting, refused, dealtWith } = syncState.value;
  if (!asked || !online || (often && running)) return '';
  return `${lastSent.slice(0, often ? undefined : '2026-03-02T10:0'.length)} ${waiting === 0} ${refused.length} ${dealtWith.length}`;
}

/** What the server says, asked anew at each moment; what came stays while it cannot be asked. */
export function useAskedAgain<T>(
  ask: () => Promise<T>,
  often: boolean,
  key: string,
): { readonly said: T | undefined; readonly again: () => void } {
  const [said, setSaid] = useState<{ readonly key: string; readonly value: T } | undefined>(undefined);
  const [turn, setTurn] = useState(0);
  const now = moment(often);
  useEffect(() => {
    if (now === '') return undefined;
    let wanted = true;
    ask().then(
      (value) => {
        if (wanted) setSaid({ key, value });
      },
      () => undefined, // the next moment asks again
    );
    return () => {
      wanted = false;
    };
  }, [now, turn, key]);
  return { said: said?.key === key ? said.value : undefined, again: () => setTurn((one) => one + 1) };
}
