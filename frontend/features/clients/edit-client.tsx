import { useState } from 'preact/hooks';
import { Button, Form, More, SavedLine, useSave } from '../../ui';
import { write } from '../../lib';
import type { Client } from '../../lib/model.gen';
import { ClientFields } from './client-fields';
import { changesOf, problemsOf, type ClientDraft } from './client-form';

function draftOf(client: Client): ClientDraft {
  const { team, name, ref, born, referred, priority, course, reason, visiting } = client;
  return { team, name, ref, born, referred, priority, course, reason, visiting };
}

/** Changes what is known of a client; only fields that differ are written. */
export function EditClient(props: { readonly client: Client; readonly today: string }) {
  const standing = draftOf(props.client);
  const [draft, setDraft] = useState<ClientDraft | null>(null);
  const [tried, setTried] = useState(false);
  const saver = useSave();
  const now = draft ?? standing;
  const problems = problemsOf(now, props.today);
  const fields = changesOf(now, standing);
  const submit = async () => {
    setTried(true);
    if (problems.length > 0 || Object.keys(fields).length === 0) return;
    if (await saver.save('change', () => write('client-changed', props.client.id, { fields }))) setDraft(null);
  };
  return (
    <More summary="Change these details">
      <Form narrow onSave={submit}>
        <ClientFields draft={now} teams={[]} problems={tried ? problems : []} onChange={setDraft} />
        <SavedLine state={saver.state} />
        <Button kind="main" type="submit" disabled={Object.keys(fields).length === 0}>
          Save the change
        </Button>
      </Form>
    </More>
  );
}
