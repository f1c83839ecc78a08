import { useState } from 'preact/hooks';
import { Button, Form, TextField, useAction } from '../../ui';
import { api } from '../../lib';
import type { PasswordRequest } from '../../lib/model.gen';
import { PASSWORD_LEAST, passwordProblems } from '../../lib/password-rules';

/** Sets a password: one's own with the current one, or somebody else's by an administrator. */
export function PasswordForm(props: { readonly person: string; readonly own: boolean }) {
  const [current, setCurrent] = useState('');
  const [password, setPassword] = useState('');
  const [tried, setTried] = useState(false);
  const { run, line } = useAction();
  const problem = passwordProblems(password)[0]?.message;
  const missing = props.own && current === '' ? 'Current password: write the one that you sign in with now.' : undefined;
  const save = async () => {
    setTried(true);
    if (problem || missing) return;
    const body: PasswordRequest = props.own ? { current, password } : { password };
    await run(async () => {
      await api('POST', `/api/v1/people/${encodeURIComponent(props.person)}/password`, body);
      setCurrent('');
      setPassword('');
      setTried(false);
      return props.own
        ? 'Your password is changed. Each tablet asks once for the old one when you next sign in there.'
        : 'The password is set. Hand it over in person.';
    });
  };
  return (
    <Form narrow onSave={save}>
      {line}
      {props.own ? (
        <TextField
          label="Current password"
          type="password"
          autoComplete="current-password"
          value={current}
          onInput={setCurrent}
          error={tried ? missing : undefined}
        />
      ) : null}
      <TextField
        label="New password"
        type="password"
        autoComplete="new-password"
        hint={`At least ${PASSWORD_LEAST} characters.`}
        value={password}
        onInput={setPassword}
        error={tried ? problem : undefined}
      />
      <Button kind="main" type="submit">
        Set the password
      </Button>
    </Form>
  );
}
