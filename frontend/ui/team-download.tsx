import { useState } from 'preact/hooks';
import { Banner, Button, reasonOf } from '.';
import { downloadTeam, downloads, pauseDownload, session, syncState, type Membership } from '../lib';
import { useFetch } from './fetch';
import { countWords } from './words';

/** Teams of the person of which nothing is on this device by choice. */
export function teamsNotHere(): readonly Membership[] {
  return (session.value?.teams ?? []).filter((team) => downloads.value.get(team.id)?.choice === 'off');
}

/** What is not, or not all, on this device: one banner a team, nothing when all is here. */
export function DownloadBanners() {
  return (
    <>
      {session.value?.teams.map((team) => (
        <DownloadBanner key={team.id} team={team} />
      ))}
    </>
  );
}

/** In place of a client that is not here: still on the way, of a team that is not on this device, closed for long, or somebody else's. */
export function NotHere() {
  if (teamsNotHere().length === 0) {
    return (
      <>
        <p>
          This client is not on this device. A client who was closed leaves it after 30 days, and clients of other teams never come onto it.
          The team’s lead finds them in the caseload.
        </p>
        <DownloadBanners />
      </>
    );
  }
  return (
    <>
      <p>This client is not on this device. To start a visit or write something down, take the team’s clients onto it first.</p>
      <DownloadBanners />
    </>
  );
}

/** Runs one thing and keeps the sentence that says why it did not work. */
export function useTry(): { readonly failed: string; readonly run: (work: () => Promise<void>) => void } {
  const [failed, setFailed] = useState('');
  const run = (work: () => Promise<void>) => {
    setFailed('');
    work().catch((error: unknown) => setFailed(reasonOf(error)));
  };
  return { failed, run };
}

function DownloadBanner({ team }: { readonly team: Membership }) {
  const now = downloads.value.get(team.id);
  const { failed, run } = useTry();
  if (!now || (now.choice === 'on' && now.complete)) return null;
  if (now.choice === 'off') return <DownloadFirst team={team} />;
  const entries = countWords(now.entries, 'entry', 'entries');
  return now.choice === 'paused' ? (
    <Banner tone="note" title="Stopped">
      <p>
        {entries} of {team.name} are on this device; what came later is not.
      </p>
      {failed ? (
        <p class="field-error" role="alert">
          {failed}
        </p>
      ) : null}
      <div class="actions">
        <Button onPress={() => run(() => downloadTeam(team.id))}>Go on</Button>
      </div>
    </Banner>
  ) : (
    <Banner tone="note" line title={`Taking the clients of ${team.name}`}>
      <p>
        {entries} so far.{syncState.value.running ? '' : ' It goes on as soon as the server answers.'}
      </p>
      {failed ? (
        <p class="field-error" role="alert">
          {failed}
        </p>
      ) : null}
      <div class="actions">
        <Button kind="quiet" onPress={() => run(() => pauseDownload(team.id))}>
          Stop for now
        </Button>
      </div>
    </Banner>
  );
}

/** Asks whether a team's clients shall come onto this device, and says what for. */
export function DownloadFirst({ team }: { readonly team: Membership }) {
  const { got } = useFetch<{ readonly total: number }>(`/api/v1/teams/${encodeURIComponent(team.id)}/caseload?status=any&limit=1`);
  const { failed, run } = useTry();
  const many = got.kind === 'here' ? ` (${countWords(got.value.total, 'client')})` : '';
  return (
    <Banner tone="note" title={`The clients of ${team.name} are not on this device`}>
      <p>
        Take them onto it{many} for visits and new clients: it then works without a network.{' '}
        {team.role === 'lead' ? 'The caseload does not need it. ' : ''}They lie on it encrypted until you take them off under{' '}
        <a class="link-row" href="/sync">
          This tablet
        </a>
        .
      </p>
      {failed ? (
        <p class="field-error" role="alert">
          {failed}
        </p>
      ) : null}
      <div class="actions">
        <Button kind="main" onPress={() => run(() => downloadTeam(team.id))}>
          Take the clients of {team.name} onto this device
        </Button>
      </div>
    </Banner>
  );
}
