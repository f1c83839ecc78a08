import { useState } from 'preact/hooks';
import { Banner, Button, Form, Segments, SelectField, reasonOf, useDraft } from '../../ui';
import { personName } from '../../ui/words';
import { api, StoreError } from '../../lib';
import type { AssignmentRefused, AssignmentRequest, Client } from '../../lib/model.gen';
import { teamPeople } from './filters';

const STATUSES = [
  { value: 'waiting', label: 'Waiting' },
  { value: 'active', label: 'Active' },
  { value: 'hold', label: 'On hold' },
  { value: 'closed', label: 'Closed' },
] as const;

type Outcome = { readonly kind: 'none' | 'saving' | 'saved' } | { readonly kind: 'faster' | 'failed'; readonly message: string };

/**
 * Who is responsible and where the client stands. It is saved only against the
 * version that was looked at: when somebody was faster, their choice stands
 * and is shown, and nothing is overwritten.
 */
export function Assignment(props: { readonly client: Client; readonly onChange: (client: Client) => void }) {
  const { client } = props;
  const draft = useDraft<Pick<AssignmentRequest, 'assignee' | 'status'>>(
    { about: client.id, name: 'assignment', title: 'Who is responsible' },
    { assignee: client.assignee, status: client.status },
  );
  const { assignee, status } = draft.value;
  const [outcome, setOutcome] = useState<Outcome>({ kind: 'none' });
  const same = assignee === client.assignee && status === client.status;
  const save = async () => {
    if (same || outcome.kind === 'saving') return;
    setOutcome({ kind: 'saving' });
    try {
      const body: AssignmentRequest = { version: client.version, assignee, status };
      props.onChange(await api<Client>('PUT', `/api/v1/clients/${encodeURIComponent(client.id)}/assignment`, body));
      draft.drop();
      setOutcome({ kind: 'saved' });
    } catch (error) {
      const newer = newerClient(error);
      if (newer) props.onChange(newer);
      setOutcome(newer ? { kind: 'faster', message: fasterWords(newer) } : { kind: 'failed', message: reasonOf(error) });
    }
  };
  return (
    <Form narrow onSave={save} draft={draft}>
      {outcome.kind === 'faster' ? (
        <Banner tone="caution" title="Somebody else changed it first" live>
          {outcome.message}
        </Banner>
      ) : null}
      {outcome.kind === 'failed' ? (
        <Banner tone="caution" title="Not saved" live>
          {outcome.message}
        </Banner>
      ) : null}
      <SelectField
        label="Responsible"
        value={assignee}
        options={[{ value: '', label: 'Nobody yet' }, ...withStanding(teamPeople(client.team), client.assignee)]}
        onChange={(to) => draft.set((now) => ({ ...now, assignee: to }))}
      />
      <Segments legend="Status" value={status} options={STATUSES} onChange={(to) => draft.set((now) => ({ ...now, status: to }))} />
      <Button kind="main" type="submit" disabled={same || outcome.kind === 'saving'}>
        Save
      </Button>
      <p role="status">{outcome.kind === 'saved' ? 'Saved at the server.' : ''}</p>
    </Form>
  );
}

/** The list with the person who stands now, even when they have left the team. */
function withStanding(people: ReturnType<typeof teamPeople>, assignee: string) {
  if (assignee === '' || people.some((one) => one.value === assignee)) return people;
  return [...people, { value: assignee, label: personName(assignee) }];
}

/** The client as the server has it, when the save was refused because it had changed. */
function newerClient(error: unknown): Client | null {
  if (!(error instanceof StoreError) || error.code !== 'conflict') return null;
  return (error.info.detail as AssignmentRefused | undefined)?.client ?? null;
}

function fasterWords(client: Client): string {
  const status = STATUSES.find((one) => one.value === client.status)?.label.toLowerCase() ?? client.status;
  return `Now ${personName(client.assignee)} is responsible and the status is ${status}. Your choice was not saved: save again if you still want it.`;
}
