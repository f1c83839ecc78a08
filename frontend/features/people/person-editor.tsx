import { useState } from 'preact/hooks';
import { Button, CheckField, Dialog, Form, Segments, TextField, useDraft, useSave } from '../../ui';
import { api } from '../../lib';
import type { PersonRow, TeamRow } from '../../lib/model.gen';
import { PASSWORD_LEAST } from '../../lib/password-rules';
import { draftOf, EMPTY_PERSON, personProblems, requestOf, ROLES, type PersonDraft } from './person-form';

interface EditorProps {
  /** The account to change, or null for a new one. */
  readonly person: PersonRow | null;
  readonly teams: readonly TeamRow[];
  readonly onClose: () => void;
  readonly onSaved: () => void;
}

/** An account as it is typed; its password is never kept. */
function usePersonDraft(person: PersonRow | null) {
  const of = person === null ? 'new person' : `person ${person.id}`;
  const title = person === null ? 'A new account' : `The account of ${person.name}`;
  const kept = useDraft<PersonDraft>({ about: 'people', name: of, title }, person ? draftOf(person) : EMPTY_PERSON);
  const [password, setPassword] = useState('');
  return { kept, draft: { ...kept.value, password }, setPassword };
}

/** Opens or changes an account: name, credential, roles, whether it is closed. */
export function PersonEditor(props: EditorProps) {
  const { person } = props;
  const isNew = person === null;
  const { kept, draft, setPassword } = usePersonDraft(person);
  const [tried, setTried] = useState(false);
  const saver = useSave();
  const problems = personProblems(draft, isNew);
  const set = (change: Partial<Omit<PersonDraft, 'password'>>) => kept.set((now) => ({ ...now, ...change }));
  const wrong = (field: string) => (tried ? problems.find((one) => one.field === field)?.message : undefined);
  const save = async () => {
    setTried(true);
    if (problems.length > 0) return;
    const path = person ? `/api/v1/people/${encodeURIComponent(person.id)}` : '/api/v1/people';
    if (!(await saver.save('account', () => api(person ? 'PUT' : 'POST', path, requestOf(draft, isNew))))) return;
    kept.drop();
    props.onSaved();
  };
  return (
    <Dialog
      title={person ? `Account of ${person.name}` : 'New account'}
      open
      onClose={props.onClose}
      actions={
        <Button kind="main" onPress={() => void save()}>
          Save
        </Button>
      }
    >
      <Form onSave={save} draft={kept} state={saver.state}>
        <TextField label="Name" value={draft.name} onInput={(name) => set({ name })} error={wrong('name')} />
        <TextField
          label="Credential"
          hint="Printed behind the name. May stay empty."
          value={draft.credential}
          onInput={(credential) => set({ credential })}
        />
        {isNew ? (
          <>
            <TextField label="Sign-in name" value={draft.login} onInput={(login) => set({ login })} error={wrong('login')} />
            <TextField
              label="First password"
              type="password"
              autoComplete="new-password"
              hint={`At least ${PASSWORD_LEAST} characters. Hand it over in person.`}
              value={draft.password}
              onInput={setPassword}
              error={wrong('password')}
            />
          </>
        ) : null}
        {props.teams.map((team) => (
          <Segments
            key={team.id}
            legend={`Role in ${team.name}`}
            value={draft.roles[team.id] ?? ''}
            options={ROLES}
            onChange={(role) => set({ roles: { ...draft.roles, [team.id]: role } })}
          />
        ))}
        <CheckField
          label="Administrator"
          hint="Manages people and teams and sees no client."
          checked={draft.admin}
          onChange={(admin) => set({ admin })}
        />
        {isNew ? null : (
          <CheckField
            label="Closed"
            hint="Can not sign in any more. What the person wrote stays."
            checked={draft.closed}
            onChange={(closed) => set({ closed })}
          />
        )}
      </Form>
    </Dialog>
  );
}
