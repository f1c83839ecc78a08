import { useState } from 'preact/hooks';
import { Banner, Button, Form, TextField, reasonOf } from '../../ui';
import { goToProvider, api, signInWithSingleSignOn, StoreError, tabletPasswordProblem, type Arrival } from '../../lib';
import { chosenProblems, PASSWORD_LEAST } from '../../lib/password-rules';
import { StartAnew, type ByProviderProps, type TabletPasswordProps } from './sign-in';

interface PasswordProps {
  readonly value: string;
  readonly onInput: (text: string) => void;
  readonly error: string | undefined;
}

/** Two fields for a password that is for this tablet alone. */
function NewTabletPassword(props: { readonly login: string; readonly first: PasswordProps; readonly again: PasswordProps }) {
  return (
    <>
      <p>
        Choose a tablet password: it opens what lies on this tablet, also without a network. Your organisation does not know it and cannot
        give it back.
      </p>
      <TextField
        label="New tablet password"
        type="password"
        autoComplete="new-password"
        hint={`At least ${PASSWORD_LEAST} characters; four or five unrelated words do well.`}
        {...props.first}
      />
      <TextField label="The same once more" type="password" autoComplete="new-password" {...props.again} />
      <p>
        Without a network you open this tablet with the name <strong>{props.login}</strong> and this password.
      </p>
    </>
  );
}

/** The password as it is typed, what is wrong with it, and opening the tablet with it. */
function useTabletPassword(who: Arrival, onDone: () => void) {
  const [forgotten, setForgotten] = useState(false);
  const [password, setPassword] = useState('');
  const [again, setAgain] = useState('');
  const [tried, setTried] = useState(false);
  const [busy, setBusy] = useState(false);
  const [failed, setFailed] = useState('');
  // What the program said of the password that was tried last.
  const [guessable, setGuessable] = useState<{ readonly password: string; readonly why: string } | null>(null);
  const chooses = !who.known || forgotten;
  const wrong = chooses
    ? chosenProblems(password, again)
    : { password: password === '' ? 'Tablet password: write the password of this tablet.' : undefined };
  const open = async () => {
    setTried(true);
    if (busy || wrong.password || wrong.again) return;
    setBusy(true);
    setFailed('');
    try {
      const why = chooses ? await tabletPasswordProblem(who, password) : undefined;
      if (why !== undefined) {
        setGuessable({ password, why });
        setBusy(false);
        return;
      }
      await signInWithSingleSignOn(who, password, forgotten);
      onDone();
    } catch (error) {
      const known = error instanceof StoreError && error.code === 'password';
      setFailed(known ? 'This is not your password on this tablet. It can be another one than your organisation’s.' : reasonOf(error));
      setBusy(false);
    }
  };
  const startAnew = () => {
    setForgotten(true);
    setPassword('');
    setTried(false);
    setFailed('');
  };
  const tooEasy = chooses && guessable?.password === password ? guessable.why : undefined;
  const first: PasswordProps = { value: password, onInput: setPassword, error: tried ? (wrong.password ?? tooEasy) : undefined };
  const second: PasswordProps = { value: again, onInput: setAgain, error: tried ? wrong.again : undefined };
  return { chooses, busy, failed, setFailed, open, startAnew, first, second };
}

/** Asks somebody whom the organisation has signed in for their tablet password, or has them choose one. */
export function TabletPassword({ who, onDone, onLeave }: TabletPasswordProps) {
  const { chooses, busy, failed, setFailed, open, startAnew, first, second } = useTabletPassword(who, onDone);
  const leave = () =>
    api('DELETE', '/api/v1/session').then(onLeave, (error: Error) => {
      setFailed(error.message);
    });
  return (
    <Form narrow onSave={open}>
      <p>
        Your organisation has signed you in as <strong>{who.name}</strong>.
      </p>
      {failed === '' ? null : (
        <Banner tone="caution" title="Not opened" live>
          {failed}
        </Banner>
      )}
      {chooses ? (
        <NewTabletPassword login={who.login} first={first} again={second} />
      ) : (
        <>
          <TextField
            label="Tablet password"
            type="password"
            autoComplete="current-password"
            hint="The one that you last opened this tablet with."
            {...first}
          />
          <StartAnew onPress={startAnew} disabled={busy} />
        </>
      )}
      <Button kind="main" size="big" type="submit" disabled={busy}>
        {busy ? 'Opening…' : 'Open this tablet'}
      </Button>
      <Button kind="quiet" onPress={() => void leave()}>
        I am somebody else
      </Button>
    </Form>
  );
}

/** The way to the organisation's sign-in, and why the last try there did not work. */
export function ByProvider(props: ByProviderProps) {
  return (
    <>
      {props.refused ? (
        <Banner tone="caution" title="Not signed in" live>
          {props.refused}
        </Banner>
      ) : null}
      <Button kind="main" size="big" onPress={() => void goToProvider(props.start)}>
        Sign in at your organisation
      </Button>
      <p>Or with a name and a password:</p>
    </>
  );
}
