import { Button, More, timeWords, useAction } from '../../ui';
import { Fetched, useFetch } from '../../ui/fetch';
import { Facts, Part, Table } from '../../ui/part';
import { api, deviceLabel, session, StoreError } from '../../lib';
import type { SessionItem, SessionList } from '../../lib/model.gen';
import { PasswordForm } from './password-form';

/** The signed-in person: roles, password, and where else they are signed in. */
export function OwnAccount() {
  const now = session.value;
  if (!now) return null;
  const roles = now.teams.map((team) => `${team.role} in ${team.name}`);
  if (now.admin) roles.push('administrator');
  return (
    <Part title="Who you are">
      <Facts
        rows={[
          ['Name', now.person.name],
          ['Credential', now.person.credential === '' ? 'none written down' : now.person.credential],
          ['Roles', roles.join(', ')],
        ]}
      />
      <More summary="Change your password">
        <PasswordForm person={now.person.id} own />
      </More>
      <More summary="Where you are signed in">
        <Sessions />
      </More>
    </Part>
  );
}

function notMissing(error: unknown): void {
  if (!(error instanceof StoreError) || error.info.status !== 404) throw error;
}

function Sessions() {
  const { got, again } = useFetch<SessionList>('/api/v1/sessions');
  const { run, line } = useAction();
  const end = async (some: readonly SessionItem[]) => {
    await run(async () => {
      // One that has ended by itself meanwhile does not keep the others open.
      for (const { id } of some) await api('DELETE', `/api/v1/sessions/${id}`).catch(notMissing);
      return 'Signed out there.';
    });
    again();
  };
  return (
    <Fetched got={got} again={again} what="your sessions">
      {({ sessions }) => {
        const others = sessions.filter((one) => !one.current);
        return (
          <>
            <Table caption="Your sessions" captionHidden heads={['Where and since', 'Last used', 'End']}>
              {sessions.map((one) => (
                <tr key={one.id}>
                  <th scope="row">
                    {one.tablet ?? deviceLabel(one.agent)}, {timeWords(one.created)}
                  </th>
                  <td>{timeWords(one.seen)}</td>
                  <td>
                    {one.current ? (
                      <strong>this one</strong>
                    ) : (
                      <Button label={`End the session that began ${timeWords(one.created)}`} onPress={() => void end([one])}>
                        End
                      </Button>
                    )}
                  </td>
                </tr>
              ))}
            </Table>
            {line}
            <p>What is on a tablet and was not sent stays there, locked, until you sign in on it again.</p>
            {others.length > 1 ? <Button onPress={() => void end(others)}>End all the others</Button> : null}
          </>
        );
      }}
    </Fetched>
  );
}
