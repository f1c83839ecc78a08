/** How long a new password must be. How hard it is to guess the server says, or for one that is for this tablet alone the program. */
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

/** What is wrong with a tablet password and its repetition, but for how easy it is to guess: that the program says. */
export function chosenProblems(
  password: string,
  again: string,
): { readonly password?: string | undefined; readonly again?: string | undefined } {
  return {
    password: passwordProblems(password)[0]?.message,
    again: again === password ? undefined : 'The same once more: expected the same password as above.',
  };
}
