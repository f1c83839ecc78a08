import { useState } from 'preact/hooks';
import { Banner, ButtonLink, CheckField, More, Page, SelectField } from '../../ui';
import { useLimits } from '../../ui/limits';
import { Part } from '../../ui/part';
import { DownloadFirst } from '../../ui/team-download';
import { links } from '../../ui/visit/links';
import { countWords } from '../../ui/words';
import { kit, downloads, session } from '../../lib';
import type { Control } from '../../lib/model.gen';
import { comparable, genericControls, type Comparable } from './compare';
import { CompareView } from './compare-view';

/** The team's controls; the lead keeps the list, everybody compares. */
export function KitScreen() {
  const teams = session.value?.teams ?? [];
  const [chosen, setChosen] = useState(teams[0]?.id ?? '');
  const team = teams.find((one) => one.id === chosen) ?? teams[0];
  if (team === undefined) {
    return (
      <Page title="Kit" back={{ href: '/', label: 'Today' }}>
        <Banner tone="note">The kit belongs to a team, and this account is in none.</Banner>
      </Page>
    );
  }
  const controls = kit.value.filter((one) => one.team === team.id);
  const away = downloads.value.get(team.id)?.choice === 'off';
  const leads = team.role === 'lead' && !away;
  return (
    <Page
      title="Kit"
      back={{ href: '/', label: 'Today' }}
      wide
      actions={
        leads ? (
          <ButtonLink kind="main" size="big" href={`${links.kitControl('new')}?team=${team.id}`}>
            List a control
          </ButtonLink>
        ) : undefined
      }
    >
      {teams.length > 1 ? (
        <SelectField label="Team" value={team.id} options={teams.map((one) => ({ value: one.id, label: one.name }))} onChange={setChosen} />
      ) : (
        <p class="quiet-line">{team.name}</p>
      )}
      {away ? (
        <>
          <p>The kit comes onto a device together with the team’s clients.</p>
          <DownloadFirst team={team} />
        </>
      ) : (
        <p>
          {controls.length === 0 ? 'No control is listed yet.' : `${countWords(controls.length, 'control')} in the kit.`}{' '}
          {leads ? 'Touch a name in the table to change it.' : 'The lead of the team lists and changes controls.'}
        </p>
      )}
      <Part title="Compare side by side">
        <Compare controls={controls} />
      </Part>
    </Page>
  );
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
          {all.map((one) => (
            <CheckField key={one.id} label={one.name} checked={!left.has(one.id)} onChange={(on) => toggle(one.id, on)} />
          ))}
        </fieldset>
      </More>
      <CompareView controls={all.filter((one) => !left.has(one.id))} reach={null} linked />
      <p class="quiet-line">The client’s measured area is laid over the same drawing in a visit, under Controls.</p>
    </>
  );
}
