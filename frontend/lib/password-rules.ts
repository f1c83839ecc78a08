/** What a new password must be. The server looks at it as well, but for one that is for this tablet alone. */
import { serverLimits } from './model.gen';

/** Fewest characters of a password (NIST SP 800-63B: 15 where it is the only factor). */
export const PASSWORD_LEAST = serverLimits.passwordLeast;

interface PasswordProblem {
  readonly field: 'password';
  readonly message: string;
}

/** Problems of a new password; the server also refuses common ones. */
export function passwordProblems(password: string): readonly PasswordProblem[] {
  const length = [...password].length;
  return length < PASSWORD_LEAST
    ? [{ field: 'password', message: `Password: expected at least ${PASSWORD_LEAST} characters, got ${length}.` }]
    : [];
}

/** What is wrong with a tablet password and its repetition. The server never sees it, so nobody else looks at it. */
export function chosenProblems(
  password: string,
  again: string,
  who: { readonly name: string; readonly login: string },
): { readonly password?: string | undefined; readonly again?: string | undefined } {
  const plain = (text: string) => text.toLowerCase().replace(/[^\p{L}\p{N}]/gu, '');
  const core = [...who.name.split(' '), who.login, 'doorsill']
    .map(plain)
    .filter((word) => word.length > 2)
    .reduce((rest, word) => rest.replaceAll(word, ''), plain(password));
  const easy = core.length < 8 || /^(.{1,7}?)\1+$/u.test(core);
  return {
    password:
      passwordProblems(password)[0]?.message ??
      (easy ? 'Password: expected something that is harder to guess, not a pattern or your name.' : undefined),
    again: again === password ? undefined : 'The same once more: expected the same password as above.',
  };
}
