import { Button } from '../../ui/button';
import { Page } from '../../ui/page';
import { withdrawn, type Withdrawn } from '../../lib';

/** What is said at each step of clearing the tablet; `part` is kept in part. */
const WORDS: Readonly<Record<Withdrawn, readonly string[]>> = {
  sending: [
    'Your team has withdrawn this tablet. It is sending what has not been sent yet, and then clears itself.',
    'Leave it switched on and near a network.',
  ],
  kept: [
    'Your team has withdrawn this tablet. Some entries could not be sent. They stay on it, locked, and nothing was cleared.',
    'Sign in again where there is a network; it then tries once more.',
  ],
  part: [
    'Your team has withdrawn this tablet. Some entries stay on it, locked with an earlier password. The rest was sent to the server and cleared.',
    'Should you remember that password, sign in and open them under Account.',
  ],
  cleared: [
    'Your team has withdrawn this tablet. Everything was sent to the server, and your records were cleared from it.',
    'You can hand it back.',
  ],
};

/** What is said on a tablet that the team has taken out of use. */
export function WithdrawnScreen() {
  const now = withdrawn.value;
  if (now === null) return null;
  return (
    <Page
      title="This tablet was withdrawn"
      actions={
        now === 'sending' ? undefined : (
          <Button
            onPress={() => {
              location.assign('/sign-in');
            }}
          >
            To the sign-in
          </Button>
        )
      }
    >
      <div class="stack" role="status">
        {WORDS[now].map((line) => (
          <p key={line}>{line}</p>
        ))}
      </div>
    </Page>
  );
}
