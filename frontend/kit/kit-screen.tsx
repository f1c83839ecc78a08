import { useState } from 'preact/hooks';
import type { Control } from '../model.gen';
import { useLimits } from '../measure/use-engine';
import { Banner, ButtonLink, CheckField, dateWords, More, numberWords, Page, SelectField } from '../parts';
import { Part, Table } from '../results/part';
import { kit, session } from '../store';
import { links } from '../visit/links';
import { comparable, genericControls, type Comparable } from './compare';
import { CompareView } from './compare-view';
import { classLabel, sealingWords } from './words';

/** The team's controls; the lead keeps the list, everybody compares. */
export function KitScreen() {
  const teams = session.value?.teams ?? [];
  const [chosen, setChosen] = useState(teams[0]?.id ?? '');
  const team = teams.find((one) => one.id === chosen) ?? teams[0];
  if (team === undefined) {
    return <Page title="Kit" back={{ href: '/', label: 'Today' }}><Banner tone="note">The kit belongs to a team, and this account is in none.</Banner></Page>;
  }
  const controls = kit.value.filter((one) => one.team === team.id);
  const leads = team.role === 'lead';
  return (
    <Page title="Kit" back={{ href: '/', label: 'Today' }} wide actions={leads ? <ButtonLink kind="main" size="big" href={`${links.kitControl('new')}?team=${team.id}`}>List a control</ButtonLink> : undefined}>
      {teams.length > 1 ? <SelectField label="Team" value={team.id} options={teams.map((one) => ({ value: one.id, label: one.name }))} onChange={setChosen} /> : <p class="quiet-line">{team.name}</p>}
      <Part title="Controls of the kit">
        {controls.length === 0 ? <p>No control is listed yet. {leads ? 'List what is in the bag.' : 'The lead of the team lists them.'}</p> : <KitTable controls={controls} />}
        {leads ? null : <p class="quiet-line">The lead of the team lists and changes controls.</p>}
      </Part>
      <Part title="Compare side by side"><Compare controls={controls} /></Part>
    </Page>
  );
}

function KitTable(props: { readonly controls: readonly Control[] }) {
  return (
    <Table caption="Controls of the kit" captionHidden heads={['Control', 'Kind', 'Starts at', 'Full command', 'Travel', 'Sealing', 'Measured']}>
      {props.controls.map((one) => (
        <tr key={one.id}>
          <th scope="row"><a class="link-row" href={links.kitControl(one.id)}>{one.name}</a></th>
          <td>{classLabel(one.class)}</td>
          <td class="num">{figureWords(one.start_gf, 'gf')}</td>
          <td class="num">{figureWords(one.operate_gf, 'gf')}</td>
          <td class="num">{figureWords(one.travel_mm, 'mm')}</td>
          <td>{sealingWords(one.sealing)}</td>
          <td>{one.measured ? `${dateWords(one.measured)}${one.measured_by ? `, ${one.measured_by}` : ''}` : 'not said'}</td>
        </tr>
      ))}
    </Table>
  );
}

function figureWords(value: number, unit: string): string {
  return value > 0 ? `${numberWords(value, 1)} ${unit}` : 'not known';
}

function Compare(props: { readonly controls: readonly Control[] }) {
  const generic = genericControls(useLimits());
  const [left, setLeft] = useState<ReadonlySet<string>>(new Set());
  const all: readonly Comparable[] = [...props.controls.map(comparable), ...generic];
  const toggle = (id: string, on: boolean) => setLeft((now) => new Set(on ? [...now].filter((one) => one !== id) : [...now, id]));
  return (
    <>
      <More summary="Choose what is compared">
        <fieldset class="group">
          <legend class="unseen">Compared controls</legend>
          {all.map((one) => <CheckField key={one.id} label={one.name} checked={!left.has(one.id)} onChange={(on) => toggle(one.id, on)} />)}
        </fieldset>
      </More>
      <CompareView controls={all.filter((one) => !left.has(one.id))} reach={null} />
      <p class="quiet-line">The client’s measured area is laid over the same drawing in a visit, under Controls.</p>
    </>
  );
}
