import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { Button, Dialog, Form, Page, SavedLine, TextField, useDraft, useSave } from '../../ui';
import { Fetched, useFetch } from '../../ui/fetch';
import { Part, Table } from '../../ui/part';
import { api, session } from '../../lib';
import type { PeopleList, PersonRow, TeamList, TeamRequest, TeamRow } from '../../lib/model.gen';
import { BackupPart } from './backup-part';
import { OwnAccount } from './own-account';
import { PasswordForm } from './password-form';
import { PersonEditor } from './person-editor';
import { TabletsPart } from './tablets-part';

/** One's own account; for an administrator also everybody's. */
export function PeopleScreen(props: { readonly tablet: ComponentChildren }) {
  const admin = session.value?.admin ?? false;
  return (
    <Page title={admin ? 'People and teams' : 'Your account'} wide={admin}>
      {admin ? <People /> : null}
      <OwnAccount />
      {props.tablet}
    </Page>
  );
}

type Open = { readonly kind: 'none' | 'new' } | { readonly kind: 'change' | 'password'; readonly person: PersonRow };

const NOTHING_OPEN: Open = { kind: 'none' };

function People() {
  const people = useFetch<PeopleList>('/api/v1/people');
  const teams = useFetch<TeamList>('/api/v1/teams');
  const { value: open, set: setOpen } = useDraft<Open>({ about: 'people', name: 'open' }, NOTHING_OPEN);
  const teamRows = teams.got.kind === 'here' ? teams.got.value.teams : [];
  const close = () => setOpen(NOTHING_OPEN);
  const saved = () => {
    close();
    people.again();
  };
  return (
    <>
      <Part title="People">
        <Fetched got={people.got} again={people.again} what="the people">
          {(list) => <PeopleTable people={list.people} onOpen={setOpen} />}
        </Fetched>
        <Button kind="main" onPress={() => setOpen({ kind: 'new' })}>
          New account
        </Button>
      </Part>
      <Part title="Teams">
        <Fetched got={teams.got} again={teams.again} what="the teams">
          {(list) => <Teams teams={list.teams} onSaved={teams.again} />}
        </Fetched>
      </Part>
      {people.got.kind === 'here' ? <TabletsPart teams={teamRows} people={people.got.value.people} /> : null}
      <BackupPart />
      {open.kind === 'new' ? <PersonEditor key="new" person={null} teams={teamRows} onClose={close} onSaved={saved} /> : null}
      {open.kind === 'change' ? (
        <PersonEditor key={open.person.id} person={open.person} teams={teamRows} onClose={close} onSaved={saved} />
      ) : null}
      {open.kind === 'password' ? (
        <Dialog title={`Password of ${open.person.name}`} open onClose={close}>
          <p>They are signed out everywhere. What their tablets have not sent yet still opens with the old password.</p>
          <PasswordForm person={open.person.id} own={open.person.id === session.value?.person.id} />
        </Dialog>
      ) : null}
    </>
  );
}

function PeopleTable(props: { readonly people: readonly PersonRow[]; readonly onOpen: (open: Open) => void }) {
  const sorted = [...props.people].sort((a, b) => Number(a.closed) - Number(b.closed) || a.name.localeCompare(b.name, 'en-GB'));
  return (
    <Table caption="People" captionHidden heads={['Name', 'Sign-in name', 'Roles', 'State', 'Change']}>
      {sorted.map((person) => (
        <tr key={person.id}>
          <th scope="row">
            {person.name}
            {person.credential === '' ? '' : `, ${person.credential}`}
          </th>
          <td>{person.login}</td>
          <td>{[...person.teams.map((team) => `${team.role} in ${team.name}`), ...(person.admin ? ['administrator'] : [])].join(', ')}</td>
          <td>{person.closed ? <strong>closed</strong> : 'open'}</td>
          <td class="row-actions">
            <Button label={`Change ${person.name}`} onPress={() => props.onOpen({ kind: 'change', person })}>
              Change
            </Button>
            <Button label={`Set the password of ${person.name}`} onPress={() => props.onOpen({ kind: 'password', person })}>
              Password
            </Button>
          </td>
        </tr>
      ))}
    </Table>
  );
}

function Teams(props: { readonly teams: readonly TeamRow[]; readonly onSaved: () => void }) {
  const draft = useDraft({ about: 'people', name: 'new team', title: 'The name of a new team' }, '');
  const { value: name, set: setName } = draft;
  const [error, setError] = useState<string | undefined>(undefined);
  const saver = useSave();
  const add = async () => {
    if (name.trim() === '') return setError('Name of the team: write a name.');
    setError(undefined);
    const body: TeamRequest = { name: name.trim() };
    if (!(await saver.save('team', () => api('POST', '/api/v1/teams', body)))) return;
    draft.drop();
    props.onSaved();
  };
  return (
    <>
      <ul class="notes">
        {props.teams.map((team) => (
          <li key={team.id}>{team.name}</li>
        ))}
      </ul>
      <Form narrow onSave={add}>
        <TextField label="Name of a new team" value={name} onInput={setName} error={error} maxLength={100} />
        {saver.state.kind === 'failed' ? <SavedLine state={saver.state} /> : null}
        <Button type="submit">Add the team</Button>
      </Form>
    </>
  );
}
