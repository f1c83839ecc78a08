import { useState } from 'preact/hooks';
import { Awaited } from '../caseload/awaited';
import { useFetched } from '../caseload/fetched';
import type { SessionList } from '../model.gen';
import { Banner, Button, More, timeWords } from '../parts';
import { Facts, Part, Table } from '../results/part';
import { api, session, signOut } from '../store';
import { PasswordForm } from './password-form';

/** The signed-in person: roles, password, and where else they are signed in. */
export function OwnAccount() {
  const now = session.value;
  if (!now) return null;
  const roles = now.teams.map((team) => `${team.role} in ${team.name}`);
  if (now.admin) roles.push('administrator');
  return (
    <Part title="Your account">
      <Facts rows={[['Name', now.person.name], ['Credential', now.person.credential === '' ? 'none written down' : now.person.credential], ['Roles', roles.join(', ')]]} />
      <More summary="Change your password"><PasswordForm person={now.person.id} own /></More>
      <More summary="Where you are signed in"><Sessions /></More>
    </Part>
  );
}

function Sessions() {
  const { got, again } = useFetched<SessionList>('/api/v1/sessions');
  const [failed, setFailed] = useState('');
  const everywhere = async () => {
    try {
      await api('DELETE', '/api/v1/sessions');
      await signOut();
    } catch (error) {
      setFailed(error instanceof Error ? error.message : 'The server did not answer.');
    }
  };
  return (
    <Awaited got={got} again={again} what="your sessions">
      {(list) => (
        <>
          <Table caption="Your sessions" captionHidden heads={['Since', 'Last seen', 'Browser', '']}>
            {list.sessions.map((one) => (
              <tr key={one.id}>
                <th scope="row">{timeWords(one.created)}</th>
                <td>{timeWords(one.seen)}</td>
                <td>{one.agent}</td>
                <td>{one.current ? 'this one' : ''}</td>
              </tr>
            ))}
          </Table>
          {failed === '' ? null : <Banner tone="caution" live>{failed}</Banner>}
          <p>What is on a tablet and was not sent stays there, locked, until you sign in on it again.</p>
          <Button onPress={() => void everywhere()}>Sign out everywhere</Button>
        </>
      )}
    </Awaited>
  );
}
