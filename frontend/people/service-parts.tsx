import { useState } from 'preact/hooks';
import { Awaited } from '../caseload/awaited';
import { useFetched } from '../caseload/fetched';
import { Tablets } from '../caseload/tablets';
import type { BackupState, PersonRow, TeamRow } from '../model.gen';
import { Banner, Button, numberWords, SelectField, timeWords, useSaid } from '../parts';
import { Facts, Part } from '../results/part';
import { api } from '../store';

/** Every tablet, by team; also those of people who are in no team any more. */
export function TabletsPart(props: { readonly teams: readonly TeamRow[]; readonly people: readonly PersonRow[] }) {
  const options = [
    ...props.teams.map(({ id, name }) => ({ value: `teams/${id}`, label: name })),
    ...props.people.filter(({ teams, admin }) => teams.length === 0 && !admin).map(({ id, name }) => ({ value: `people/${id}`, label: `${name}, in no team` })),
  ];
  const [chosen, setChosen] = useState('');
  const of = chosen || options[0]?.value;
  if (of === undefined) return null;
  return (
    <Part title="Tablets">
      {options.length > 1 ? <SelectField label="Tablets of" value={of} options={options} onChange={setChosen} /> : null}
      <Tablets key={of} of={of} />
    </Part>
  );
}

/** The last backup, and the next one at a touch. */
export function BackupPart() {
  const { got, again } = useFetched<BackupState>('/api/v1/backup');
  const { run, line } = useSaid();
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
      <Awaited got={got} again={again} what="the last backup">
        {({ dir, last, why }) => (
          <>
            {why ? <Banner tone="caution" title="No backup">{why}</Banner> : last ? (
              <Facts rows={[['Last backup', timeWords(last.at)], ['Size', `${numberWords(last.bytes / 1e6, 2)} MB`], ['On the server', `${dir}/${last.name}`]]} />
            ) : <p>There is no backup in {dir} yet.</p>}
            {line}
            {dir === '' ? null : <Button onPress={() => void make()} disabled={busy}>{busy ? 'Making a backup…' : 'Make a backup now'}</Button>}
          </>
        )}
      </Awaited>
    </Part>
  );
}
