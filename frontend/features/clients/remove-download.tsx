import { Button, Dialog, useDraft } from '../../ui';
import { Part } from '../../ui/part';
import { DownloadBanners, useTry } from '../../ui/team-download';
import { countWords } from '../../ui/words';
import { downloads, session, removeDownload, type Membership } from '../../lib';

/** Which teams' clients are on this device, and how to take them off it. */
export function DevicePart() {
  const teams = session.value?.teams ?? [];
  if (teams.length === 0) return null;
  return (
    <Part title="Clients on this device">
      {teams
        .filter((team) => downloads.value.get(team.id)?.choice !== 'off')
        .map((team) => (
          <TakeOff key={team.id} team={team} />
        ))}
      <DownloadBanners />
      <p>A closed client is taken off this device 30 days after everything was sent. What is unsent or unsigned stays.</p>
    </Part>
  );
}

function TakeOff({ team }: { readonly team: Membership }) {
  const { value: asking, set: setAsking } = useDraft({ about: team.id, name: 'take off this device' }, false);
  const { failed, run } = useTry();
  const entries = downloads.value.get(team.id)?.entries ?? 0;
  const off = () => {
    setAsking(false);
    run(() => removeDownload(team.id));
  };
  return (
    <div class="choice-head">
      <p>
        {team.name}: {countWords(entries, 'entry', 'entries')} taken in.
      </p>
      <Button label={`Take them off this device: ${team.name}`} onPress={() => setAsking(true)}>
        Take them off this device
      </Button>
      {failed ? (
        <p class="field-error" role="alert">
          {failed}
        </p>
      ) : null}
      <Dialog
        title={`Take the clients of ${team.name} off this device?`}
        open={asking}
        onClose={() => setAsking(false)}
        actions={
          <>
            <Button kind="main" onPress={off}>
              Take them off
            </Button>
            <Button onPress={() => setAsking(false)}>Leave them here</Button>
          </>
        }
      >
        <p>They stay on the server. To visit one of them with this device, take them onto it again first.</p>
        <p>
          What you wrote yourself stays here, encrypted and hidden, in case the server loses it. Nothing is taken off while something waits
          to be sent.
        </p>
      </Dialog>
    </div>
  );
}
