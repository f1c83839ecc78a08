import { useEffect, useState } from 'preact/hooks';
import { goTo, usePlace } from '../app/address';
import { Banner } from '../parts/banner';
import { Button } from '../parts/button';
import { TextField } from '../parts/field';
import { More } from '../parts/more';
import { Page } from '../parts/page';
import { api, passkeys, session, signIn, signInWithPasskey, StoreError } from '../store';
import { PinForm } from '../vault/pin-form';

/** What the server says before anybody is signed in; nothing without a network. */
interface Said {
  readonly demo?: { readonly text: string };
  /** Why the organisation's sign-in brought somebody back without a session. */
  readonly refused?: string;
}

function useSaid(refused: string): Said {
  const [said, setSaid] = useState<Said>({});
  useEffect(() => {
    // The session answer is 401 before sign-in; how to sign in stands in its body.
    api('GET', `/api/v1/session?refused=${encodeURIComponent(refused)}`).catch((error: unknown) => {
      if (error instanceof StoreError) setSaid((error.info.detail as Said | null | undefined) ?? {});
    });
  }, []);
  return said;
}

/** Whether somebody's passkey opens this tablet. */
function usePasskey(): boolean {
  const [known, setKnown] = useState(false);
  useEffect(() => { void passkeys().then((all) => { setKnown(all.known); }, () => undefined); }, []);
  return known;
}

/** Sign in with the server when it answers, else open what is on this tablet. */
export function SignIn() {
  const { query } = usePlace();
  const { demo, refused } = useSaid(query['refused'] ?? '');
  const [name, setName] = useState('');
  const [password, setPassword] = useState('');
  const [oldPassword, setOldPassword] = useState('');
  const [failed, setFailed] = useState<StoreError | Error | null>(null);
  const [busy, setBusy] = useState(false);
  const [tried, setTried] = useState(false);
  const needsOld = failed instanceof StoreError && failed.code === 'changed-password';
  const passkey = usePasskey();
  const goOn = () => goTo(localPath(query['to']) ?? start(), true);
  const submit = async (forgotten = false) => {
    setTried(true);
    if (busy || name.trim() === '' || password === '') return;
    await open(() => signIn(name.trim(), password, oldPassword === '' ? undefined : oldPassword, forgotten));
  };
  const open = async (work: () => Promise<void>) => {
    setBusy(true);
    setFailed(null);
    try {
      await work();
      goOn();
    } catch (error) {
      setFailed(error instanceof Error ? error : new Error('Signing in did not work. Try again.'));
    } finally {
      setBusy(false);
    }
  };
  return (
    <Page title="Sign in">
      <p class="lead-sentence">Doorsill helps to find out how much support somebody needs to drive a power wheelchair. It does not decide.</p>
      {demo ? <Banner tone="note" title="Demo"><p class="keep-lines">{demo.text}</p></Banner> : null}
      {refused ? <Banner tone="caution" title="Not signed in" live>{refused}</Banner> : null}
      <PinForm onDone={goOn} />
      {passkey ? <div><Button onPress={() => void open(signInWithPasskey)} disabled={busy}>Open with a passkey</Button></div> : null}
      <form class="stack form" noValidate onSubmit={(event) => { event.preventDefault(); void submit(); }}>
        {failed ? <Banner tone="caution" title="Not signed in" live>{failed.message}</Banner> : null}
        <TextField label="Name" autoComplete="username" value={name} onInput={setName} error={tried && name.trim() === '' ? 'Name: write the name that you sign in with.' : undefined} />
        <TextField label="Password" type="password" autoComplete="current-password" value={password} onInput={setPassword} error={tried && password === '' ? 'Password: write your password.' : undefined} />
        {needsOld || oldPassword !== '' ? (
          <TextField label="The password before" type="password" hint="Your password was changed since you last used this tablet. What is on it opens with the one before." value={oldPassword} onInput={setOldPassword} />
        ) : null}
        {needsOld ? (
          <More summary="I do not know the one before">
            <p>What you signed on this tablet is sealed for your organisation and can still be sent; you find it under Account. What was begun and not signed stays locked here until the password comes back to mind; then you open it under Account.</p>
            <Button onPress={() => void submit(true)} disabled={busy}>Start anew on this tablet</Button>
          </More>
        ) : null}
        <Button kind="main" size="big" type="submit" disabled={busy}>{busy ? 'Opening…' : 'Sign in'}</Button>
      </form>
      <p class="quiet-line">Without a network the same password opens what is on this tablet, once you have signed in here with a network.</p>
      <a class="link-row" href="/about">Read this before first use</a>
    </Page>
  );
}

/** Only a path of this app may follow a sign-in. */
function localPath(to: string | undefined): string | null {
  return to !== undefined && /^\/(?![/\\])/.test(to) && !to.startsWith('/sign-in') ? to : null;
}

/** Where the day starts: an administrator who is in no team has no clients to see. */
function start(): string {
  const now = session.value;
  return now?.admin && now.teams.length === 0 ? '/people' : '/';
}
