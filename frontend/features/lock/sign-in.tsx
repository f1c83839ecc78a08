import type { FunctionComponent } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { goTo, usePlace } from '../../ui/address';
import { Banner } from '../../ui/banner';
import { Button } from '../../ui/button';
import { TextField } from '../../ui/field';
import { PlainForm } from '../../ui/inputs';
import { More, Page } from '../../ui/page';
import {
  api,
  arrival,
  closing,
  locked,
  passkeys,
  resumable,
  session,
  signIn,
  signInWithPasskey,
  StoreError,
  type Arrival,
} from '../../lib';
import type { SessionAnswer } from '../../lib/model.gen';
import { PinForm } from './pin-form';

/** What the server says to somebody who is not signed in; nothing without a network. */
interface ServerHints {
  readonly demo?: { readonly text: string };
  /** The address of the organisation's own sign-in. */
  readonly provider?: string;
  /** Why it brought somebody back without a session. */
  readonly refused?: string;
  /** Whom that sign-in has brought here. */
  readonly who?: Arrival | null;
}

function useServerHints(refused: string): { readonly hints: ServerHints; readonly ask: () => void } {
  const [hints, setHints] = useState<ServerHints>({});
  const ask = () => {
    // The session answer is 401 before sign-in; how to sign in stands in its body.
    api<SessionAnswer>('GET', `/api/v1/session?refused=${encodeURIComponent(refused)}`)
      .then(async ({ unlock }) => ({ who: unlock ? await arrival() : null }))
      .catch((error: unknown) => (error instanceof StoreError ? (error.info.detail as ServerHints | null) : null) ?? {})
      // Whoever is choosing a password is not interrupted by a network that goes.
      .then((next) => {
        setHints((now) => (now.who && !navigator.onLine ? now : next));
      });
  };
  useEffect(() => {
    ask();
    const changes = ['online', 'offline'];
    for (const change of changes) addEventListener(change, ask);
    return () => {
      for (const change of changes) removeEventListener(change, ask);
    };
  }, []);
  return { hints, ask };
}

/** Whether somebody's passkey opens this tablet, and whether anybody has signed in on it; null until that is known. */
function useWaysIn(): { readonly known: boolean; readonly people: boolean } | null {
  const [found, setFound] = useState<{ readonly known: boolean; readonly people: boolean } | null>(null);
  useEffect(() => {
    void passkeys().then(setFound, () => undefined);
  }, []);
  return found;
}

/** Why the password is asked for, on a tablet that somebody has opened before. */
function WhyPassword(props: { readonly passkey: boolean }) {
  if (resumable.value) return <p class="quiet-line">Or with your password, or another person’s:</p>;
  const why = locked.value
    ? 'There is no PIN for this session, or it is used up, so the password opens it.'
    : 'The app was closed, or the browser has put away the keys for the PIN, which are never stored. So the password opens it.';
  return (
    <p class="quiet-line">
      {why} {props.passkey ? 'Your passkey does too.' : 'A passkey, where this device can make one, spares you that: see Account.'}
    </p>
  );
}

/** The way to the organisation's sign-in, and why the last try there did not work. */
export interface ByProviderProps {
  readonly start: string;
  readonly refused: string | undefined;
}

export interface TabletPasswordProps {
  readonly who: Arrival;
  readonly onDone: () => void;
  /** Somebody else wants to sign in. */
  readonly onLeave: () => void;
}

/** Parts that come with the late script; absent until it is here. */
interface LazyParts {
  readonly ByProvider: FunctionComponent<ByProviderProps> | undefined;
  readonly TabletPassword: FunctionComponent<TabletPasswordProps> | undefined;
}

/** Runs one way of signing in at a time, and says why it did not work. */
function useSigningIn(onDone: () => void) {
  const [failed, setFailed] = useState<StoreError | Error | null>(null);
  const [busy, setBusy] = useState(false);
  const open = async (work: () => Promise<void>) => {
    setBusy(true);
    setFailed(null);
    try {
      await work();
      onDone();
    } catch (error) {
      setFailed(error instanceof Error ? error : new Error('Signing in did not work. Try again.'));
    } finally {
      setBusy(false);
    }
  };
  return { failed, busy, open };
}

interface PasswordFormProps {
  readonly busy: boolean;
  /** The password was changed: the one before opens what is on this tablet. */
  readonly needsOld: boolean;
  /** There is another way in that most people take. */
  readonly second: boolean;
  readonly open: (work: () => Promise<void>) => Promise<void>;
}

function PasswordForm({ busy, needsOld, second, open }: PasswordFormProps) {
  const [name, setName] = useState('');
  const [password, setPassword] = useState('');
  const [oldPassword, setOldPassword] = useState('');
  const [tried, setTried] = useState(false);
  const submit = async (forgotten = false) => {
    setTried(true);
    if (busy || name.trim() === '' || password === '') return;
    await open(() => signIn(name.trim(), password, oldPassword === '' ? undefined : oldPassword, forgotten));
  };
  return (
    <PlainForm class="stack form" onSubmit={() => submit()}>
      <TextField
        label="Name"
        autoComplete="username"
        value={name}
        onInput={setName}
        error={tried && name.trim() === '' ? 'Name: write the name that you sign in with.' : undefined}
      />
      <TextField
        label="Password"
        type="password"
        autoComplete="current-password"
        value={password}
        onInput={setPassword}
        error={tried && password === '' ? 'Password: write your password.' : undefined}
      />
      {needsOld || oldPassword !== '' ? (
        <TextField
          label="The password before"
          type="password"
          hint="Your password was changed since you last used this tablet. What is on it opens with the one before."
          value={oldPassword}
          onInput={setOldPassword}
        />
      ) : null}
      {needsOld ? <StartAnew onPress={() => void submit(true)} disabled={busy} /> : null}
      <Button kind={second ? 'plain' : 'main'} size="big" type="submit" disabled={busy}>
        {busy ? 'Opening…' : 'Sign in'}
      </Button>
    </PlainForm>
  );
}

/**
 * Sign in with the server when it answers, else open what is on this tablet. Where
 * it was just locked, nothing is asked before what was being typed is on the disk:
 * whoever sees a field for a password may close the page.
 */
export function SignIn(late: LazyParts) {
  return closing.value ? (
    <Page title="Sign in">
      <p role="status">Writing down what was being typed…</p>
    </Page>
  ) : (
    <WaysIn {...late} />
  );
}

function WaysIn(late: LazyParts) {
  const { query } = usePlace();
  const { hints, ask } = useServerHints(query['refused'] ?? '');
  const { demo, provider, who, refused } = hints;
  const goOn = () => goTo(localPath(query['to']) ?? start(), true);
  const { failed, busy, open } = useSigningIn(goOn);
  const found = useWaysIn();
  const passkey = found?.known === true;
  return (
    <Page title="Sign in">
      {locked.value ? null : (
        <p class="lead-sentence">
          Doorsill helps to find out how much support somebody needs to drive a power wheelchair. It does not decide.
        </p>
      )}
      {demo ? (
        <Banner tone="note" title="Demo">
          <p class="keep-lines">{demo.text}</p>
        </Banner>
      ) : null}
      {locked.value ? (
        <Banner tone="note" title="This tablet is locked">
          Nothing is lost. What was saved or half typed is kept on this tablet, encrypted, and comes back when the same person signs in.
        </Banner>
      ) : null}
      {failed ? (
        <Banner tone="caution" title="Not signed in" live>
          {failed.message}
        </Banner>
      ) : null}
      <PinForm onDone={goOn} />
      {passkey ? (
        <div>
          <Button onPress={() => void open(signInWithPasskey)} disabled={busy}>
            Open with a passkey
          </Button>
        </div>
      ) : null}
      {found?.people ? <WhyPassword passkey={passkey} /> : null}
      {late.ByProvider && provider ? <late.ByProvider start={provider} refused={refused} /> : null}
      {who && late.TabletPassword ? (
        <late.TabletPassword who={who} onDone={goOn} onLeave={ask} />
      ) : (
        <PasswordForm
          busy={busy}
          needsOld={failed instanceof StoreError && failed.code === 'changed-password'}
          second={Boolean(provider)}
          open={open}
        />
      )}
      <p class="quiet-line">
        No network? Once you have signed in here with one, your name and the same password (or your tablet password) open what is on this
        tablet.
      </p>
      <a class="link-row" href="/about">
        Read this before first use
      </a>
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

/** The way on for somebody who does not know the password that locks what is on this tablet. */
export function StartAnew(props: { readonly onPress: () => void; readonly disabled: boolean }) {
  return (
    <More summary="I do not know the one before">
      <p>
        What you signed on this tablet is sealed for your organisation and can still be sent; you find it under Account. What was begun and
        not signed stays locked here until the password comes back to mind; then you open it under Account.
      </p>
      <Button onPress={props.onPress} disabled={props.disabled}>
        Start anew on this tablet
      </Button>
    </More>
  );
}
