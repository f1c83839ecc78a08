import { useState } from 'preact/hooks';
import { SelectField } from '../../ui';
import { Part } from '../../ui/part';
import { Tablets } from '../../ui/tablets';
import type { PersonRow, TeamRow } from '../../lib/model.gen';

/** Every tablet, by team; also those of people who are in no team any more. */
export function TabletsPart(props: { readonly teams: readonly TeamRow[]; readonly people: readonly PersonRow[] }) {
  const options = [
    ...props.teams.map(({ id, name }) => ({ value: `teams/${id}`, label: name })),
    ...props.people
      .filter(({ teams, admin }) => teams.length === 0 && !admin)
      .map(({ id, name }) => ({ value: `people/${id}`, label: `${name}, in no team` })),
  ];
  const [chosen, setChosen] = useState('');
  const of = chosen || options[0]?.value;
  if (of === undefined) return null;
  return (
    <Part title="Tablets">
      {options.length > 1 ? <SelectField label="Team" value={of} options={options} onChange={setChosen} /> : null}
      <Tablets key={of} of={of} />
    </Part>
  );
}
