import { useState } from 'preact/hooks';
import { Banner } from '../../ui/banner';
import { Button } from '../../ui/button';
import { TextField } from '../../ui/field';
import { PlainForm } from '../../ui/inputs';
import { resumable, resume } from '../../lib';

const KEYS = ['1', '2', '3', '4', '5', '6', '7', '8', '9'] as const;
const LONGEST = 12;

/** Brings the locked session back, while a PIN can. */
export function PinForm(props: { readonly onDone: () => void }) {
  const [pin, setPin] = useState('');
  const [failed, setFailed] = useState('');
  const [busy, setBusy] = useState(false);
  const submit = async () => {
    if (busy) return;
    setBusy(true);
    setFailed('');
    try {
      await resume(pin);
      props.onDone();
    } catch (error) {
      setPin('');
      setFailed(error instanceof Error ? error.message : 'The PIN could not be checked.');
    } finally {
      setBusy(false);
    }
  };
  const failure =
    failed === '' ? null : (
      <Banner tone="caution" title="Still locked" live>
        {failed}
      </Banner>
    );
  // After the last try or too long a time the password is asked, and this says why.
  if (!resumable.value) return failure;
  const key = (digit: string) => (
    <button key={digit} type="button" class="pad-key" onClick={() => setPin((now) => (now.length < LONGEST ? now + digit : now))}>
      {digit}
    </button>
  );
  return (
    <PlainForm class="stack form" onSubmit={() => submit()}>
      {failure}
      <TextField
        label="PIN"
        type="password"
        inputMode="numeric"
        hint="The one that you set when you last signed in."
        value={pin}
        onInput={setPin}
      />
      <div class="pad-keys pin-keys" role="group" aria-label="Number keys">
        {KEYS.map(key)}
        <button type="button" class="pad-key" aria-label="delete the last digit" onClick={() => setPin((now) => now.slice(0, -1))}>
          ⌫
        </button>
        {key('0')}
        <Button kind="main" size="big" type="submit" disabled={busy}>
          {busy ? 'Opening…' : 'Go on'}
        </Button>
      </div>
    </PlainForm>
  );
}
