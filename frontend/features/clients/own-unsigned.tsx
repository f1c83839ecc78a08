import { Part } from '../../ui/part';
import { byTablet, ConfirmUnsigned } from '../../ui/unsigned';
import { useFetch } from '../../ui/fetch';
import { session } from '../../lib';
import type { QuarantineList } from '../../lib/model.gen';

/** The person's own entries that came in a file and were not signed: they say whether they wrote them. */
export function OwnUnsigned() {
  const teams = session.value?.teams ?? [];
  return (
    <>
      {teams.map((team) => (
        <OfTeam key={team.id} team={team.id} person={session.value?.person.id ?? ''} />
      ))}
    </>
  );
}

/** Without a network there is nothing to ask, and nothing is shown. */
function OfTeam(props: { readonly team: string; readonly person: string }) {
  const { got, again } = useFetch<QuarantineList>(`/api/v1/teams/${encodeURIComponent(props.team)}/quarantine`);
  if (got.kind !== 'here') return null;
  const groups = byTablet(got.value.entries.filter((one) => one.author === props.person));
  if (groups.length === 0) return null;
  return (
    <Part title="Did you write these?">
      <p>
        These entries came in your name from a file or a sealed copy that your tablet did not sign, so somebody else could have written
        them. They do not count until you say that they are yours. Look at each, and tick what you wrote. Leave out what you do not know,
        and tell your lead.
      </p>
      {groups.map((entries) => (
        <ConfirmUnsigned key={entries[0]?.tablet} entries={entries} action="I wrote these: count them" onConfirmed={again} />
      ))}
    </Part>
  );
}
