import { useMemo, useState } from 'preact/hooks';
import { Banner, Button, Form, Page, SavedLine, useDraft, useSave } from '../../ui';
import { goTo } from '../../ui/address';
import { DownloadFirst, teamsNotHere } from '../../ui/team-download';
import { countWords } from '../../ui/words';
import { drafts, newId, session, write } from '../../lib';
import { dateOf } from '../../lib/dates';
import { ClientFields } from './client-fields';
import { bodyOf, emptyDraft, problemsOf, readDraft } from './client-form';

/** Where versions before this one kept what was typed here. */
const olderKey = 'new-client';

/** A new client; works without a network. */
export function NewClient() {
  const today = dateOf(new Date());
  const teams = (session.value?.teams ?? []).filter((team) => team.role !== 'assistant');
  const id = useMemo(newId, []);
  const notDownloaded = teamsNotHere();
  const first = teams.find((team) => !notDownloaded.includes(team)) ?? teams[0];
  const allowed = teams.map((team) => team.id);
  // What an earlier version of the app had kept is taken up once.
  const [older] = useState(() => readDraft(drafts.load(olderKey), allowed));
  const kept = useDraft({ about: 'new-client', name: 'client', title: 'A new client' }, older ?? emptyDraft(first?.id ?? '', today));
  const draft = allowed.includes(kept.value.team) ? kept.value : { ...kept.value, team: first?.id ?? '' };
  const notHere = notDownloaded.find((team) => team.id === draft.team);
  const [tried, setTried] = useState(false);
  const saver = useSave();
  const problems = problemsOf(draft, today);
  const submit = async () => {
    setTried(true);
    if (problems.length > 0 || notHere || saver.busy()) return;
    if (!(await saver.save('client', () => write('client-opened', id, bodyOf(draft))))) return;
    drafts.drop(olderKey);
    kept.drop();
    goTo(`/clients/${id}`, true);
  };
  return (
    <Page title="New client" wide back={{ href: '/', label: 'Today' }}>
      {teams.length === 0 ? <Banner tone="caution">Clinicians and leads can open a client. Ask the lead of your team.</Banner> : null}
      {notHere ? <DownloadFirst key={notHere.id} team={notHere} /> : null}
      {notHere && teams.length === 1 ? null : (
        <Form onSave={submit} draft={kept}>
          <ClientFields draft={draft} teams={teams} problems={tried ? problems : []} onChange={kept.set} />
          {tried && problems.length > 0 ? (
            <p class="field-error" role="alert">
              Not saved yet: {countWords(problems.length, 'field needs', 'fields need')} something.
            </p>
          ) : null}
          <SavedLine state={saver.state} />
          {notHere ? null : (
            <div class="actions">
              <Button kind="main" size="big" type="submit">
                Save the client
              </Button>
            </div>
          )}
        </Form>
      )}
    </Page>
  );
}
