import { useState } from 'preact/hooks';
import { Button, numberWords, timeWords, useAction } from '../../ui';
import { Fetched, useFetch } from '../../ui/fetch';
import { Part } from '../../ui/part';
import { api } from '../../lib';
import type { BackupState } from '../../lib/model.gen';

/** The last backup, and the next one at a touch. */
export function BackupPart() {
  const { got, again } = useFetch<BackupState>('/api/v1/backup');
  const { run, line } = useAction();
  const [busy, setBusy] = useState(false);
  const make = async () => {
    if (busy) return;
    setBusy(true);
    await run(async () => {
      await api('POST', '/api/v1/backup');
      return 'The backup is made.';
    });
    setBusy(false);
    again();
  };
  return (
    <Part title="Backup">
      <Fetched got={got} again={again} what="the last backup">
        {({ dir, last, why, verified }) => (
          <>
            {why ? (
              <p>{why}</p>
            ) : last ? (
              <p>
                The last one was made {timeWords(last.at)}: {dir}/{last.name}, {numberWords(last.bytes / 1e6, 2)} MB.
              </p>
            ) : (
              <p>There is no backup in {dir} yet.</p>
            )}
            {verified === undefined ? null : verified.faults === 0 ? (
              <p>The records were checked {timeWords(verified.at)}: no fault was found.</p>
            ) : (
              <p role="alert">
                The records were checked {timeWords(verified.at)}: faults found: {numberWords(verified.faults, 0)}. Tell whoever runs the
                server: its log names them, and so does “doorsill verify”.
              </p>
            )}
            {line}
            {dir === '' ? null : (
              <Button onPress={() => void make()} disabled={busy}>
                {busy ? 'Saving…' : 'Make a backup now'}
              </Button>
            )}
          </>
        )}
      </Fetched>
    </Part>
  );
}
