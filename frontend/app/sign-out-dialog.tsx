import { Button } from '../ui/button';
import { Dialog } from '../ui/dialog';
import { countWords } from '../ui/words';
import { signOut, syncState } from '../lib';

/** Asked before a sign-out while something is on this tablet only. */
export function SignOutDialog(props: { readonly open: boolean; readonly onClose: () => void }) {
  const { waiting } = syncState.value;
  return (
    <Dialog
      title="Not everything has been sent"
      open={props.open}
      onClose={props.onClose}
      actions={
        <>
          <Button kind="main" onPress={props.onClose}>
            Stay
          </Button>
          <Button onPress={() => void signOut()}>Sign out all the same</Button>
        </>
      }
    >
      <p>
        {countWords(waiting, 'entry is', 'entries are')} on this tablet only. They stay here, locked, and are sent when you sign in again
        with a network.
      </p>
    </Dialog>
  );
}
