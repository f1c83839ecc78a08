import { useState } from 'preact/hooks';
import { AtOnceForm, isBegun, More, useAtOnce, useDraft } from '../../ui';
import { write } from '../../lib';
import type { Client } from '../../lib/model.gen';
import { ClientFields } from './client-fields';
import { changesOf, problemsOf, type ClientDraft } from './client-form';

function draftOf(client: Client): ClientDraft {
  const { team, name, ref, born, referred, priority, course, reason, visiting } = client;
  return { team, name, ref, born, referred, priority, course, reason, visiting };
}

/** Changes what is known of a client. Each change is saved by itself, and only the fields that differ. */
export function EditClient(props: { readonly client: Client; readonly today: string }) {
  const { client, today } = props;
  const standing = draftOf(client);
  const draft = useDraft({ about: client.id, name: 'details', title: 'The details of a client' }, standing);
  const [open] = useState(() => isBegun(client.id, 'details'));
  const once = useAtOnce({
    title: 'change',
    draft,
    open: () => ({}),
    read: (typed) => {
      const problems = problemsOf(typed, today);
      if (problems.length > 0) return { errors: Object.fromEntries(problems.map((one) => [one.field, one.message])) };
      return { body: changesOf(typed, standing) };
    },
    write: (fields) => write('client-changed', client.id, { fields }),
  });
  const problems = problemsOf(draft.value, today).filter((one) => one.field in once.errors);
  return (
    <More summary="Change these details" open={open}>
      <AtOnceForm class="form" form={once} draft={draft}>
        <ClientFields draft={draft.value} teams={[]} problems={problems} onChange={draft.set} />
      </AtOnceForm>
    </More>
  );
}
