import { useEffect, useState } from 'preact/hooks';
import { Banner, Button, More, SelectField, TextField, useAction } from '../../ui';
import { PlainForm } from '../../ui/inputs';
import { saveFile } from '../../ui/outbox-file';
import { Part } from '../../ui/part';
import { countWords } from '../../ui/words';
import {
  addPasskey,
  hasPin,
  IDLE,
  idleMinutes,
  ownPasskeys,
  passkeys,
  lockedRows,
  removePasskeys,
  setIdleMinutes,
  setPin,
  type LockedRows,
} from '../../lib';

const MINUTES = Array.from({ length: IDLE.most - IDLE.least + 1 }, (_, at) => IDLE.least + at).map((minutes) => ({
  value: String(minutes),
  label: `${minutes} minutes`,
}));

/** How this tablet locks and opens for the person at it. */
export function TabletPart() {
  const { run, line } = useAction();
  return (
    <Part title="Locking this tablet">
      {line}
      <SelectField
        label="Lock when nobody touches it for"
        options={MINUTES}
        value={String(idleMinutes.value)}
        onChange={(value) =>
          void run(async () => {
            await setIdleMinutes(Number(value));
            return `It locks after ${value} minutes without a touch.`;
          })
        }
      />
      <More summary="PIN for today">
        <PinPart />
      </More>
      <PasskeyPart />
      <LockedRowsPart />
    </Part>
  );
}

export function PinPart() {
  const { run, line } = useAction();
  const [pin, setTyped] = useState('');
  const save = async () => {
    if (
      await run(async () => {
        await setPin(pin);
        return 'The PIN brings you back for two hours after a lock, and after a reload, until the app is closed.';
      })
    )
      setTyped('');
  };
  return (
    <PlainForm class="stack form" onSubmit={() => save()}>
      {line}
      <p>
        After a lock or a reload the PIN brings you back without the password, for two hours. The keys are held in memory only: once the app
        is closed, or after five wrong tries, you need the password or a passkey.
      </p>
      <TextField label="New PIN" type="password" inputMode="numeric" hint="6 to 12 digits." value={pin} onInput={setTyped} />
      <Button type="submit">Set the PIN</Button>
      {hasPin.value ? (
        <Button
          onPress={() =>
            void run(async () => {
              await setPin(null);
              return 'The PIN is gone.';
            })
          }
        >
          Take the PIN away
        </Button>
      ) : null}
    </PlainForm>
  );
}

export function PasskeyPart() {
  const { run, line } = useAction();
  const [state, setState] = useState<{ readonly possible: boolean; readonly own: number } | null>(null);
  const [password, setPassword] = useState('');
  const read = () => {
    void Promise.all([passkeys(), ownPasskeys()]).then(
      ([{ possible }, own]) => {
        setState({ possible, own });
      },
      () => undefined,
    );
  };
  useEffect(read, []);
  if (state === null) return null;
  if (!state.possible && state.own === 0)
    return <p class="quiet-line">This browser or device cannot make a passkey that opens the tablet. Your password goes on opening it.</p>;
  const add = async () => {
    if (
      await run(async () => {
        await addPasskey(password);
        return 'The passkey opens this tablet from now on, also without a network.';
      })
    )
      setPassword('');
    read();
  };
  return (
    <More summary="Passkey">
      <PlainForm class="stack form" onSubmit={() => add()}>
        {line}
        <p>
          {state.own === 0
            ? 'With a passkey this device’s own lock, such as a fingerprint, opens what is on the tablet.'
            : `${countWords(state.own, 'passkey opens', 'passkeys open')} this tablet for you.`}
        </p>
        <TextField label="Your password" type="password" autoComplete="current-password" value={password} onInput={setPassword} />
        <Button type="submit">Make a passkey</Button>
        {state.own === 0 ? null : (
          <Button
            onPress={() =>
              void run(async () => {
                await removePasskeys();
                return 'No passkey opens this tablet any more.';
              }).then(read)
            }
          >
            Remove the passkeys
          </Button>
        )}
      </PlainForm>
    </More>
  );
}

/** What is locked with a password that was forgotten. */
function LockedRowsPart() {
  const { run, line } = useAction();
  const [found, setFound] = useState<LockedRows | null>(null);
  const [password, setPassword] = useState('');
  const read = () => {
    void lockedRows()
      .then((ways) => ways.read())
      .then(setFound, () => undefined);
  };
  useEffect(read, []);
  if (found === null || found.waiting === 0) return line;
  const open = async () => {
    if (
      await run(async () => {
        await (await lockedRows()).open(password);
        return 'What this password had locked is with the server.';
      })
    )
      setPassword('');
    read();
  };
  const save = async () => {
    const file = await (await lockedRows()).file();
    saveFile(file.name, file.text);
    return `${countWords(file.entries, 'entry', 'entries')} went into ${file.name}. Your administrator takes it in with “doorsill import”.`;
  };
  return (
    <>
      {line}
      <Banner tone="caution" title="Locked since an earlier sign-in">
        <p>
          {countWords(found.waiting, 'entry', 'entries')} of yours on this tablet could not be sent before your password or name was
          changed.{' '}
          {found.sealed === 0
            ? 'None of them was signed, so only the password of then opens them.'
            : `${countWords(found.sealed, 'entry', 'entries')} of visits that you signed can be sent without it.`}
        </p>
        {found.sealed === 0 ? null : (
          <>
            <Button
              kind="main"
              onPress={() =>
                void run(async () => {
                  await (await lockedRows()).send();
                  return 'What you had signed is with the server.';
                }).then(read)
              }
            >
              Send the sealed visits
            </Button>
            <Button onPress={() => void run(save)}>Save them to a file</Button>
          </>
        )}
        <PlainForm class="stack form" onSubmit={() => open()}>
          <TextField label="The password of then" type="password" value={password} onInput={setPassword} />
          <Button type="submit">Open and send with it</Button>
        </PlainForm>
      </Banner>
    </>
  );
}
