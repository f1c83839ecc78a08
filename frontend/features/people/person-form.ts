/** What an account's form must hold. */
import type { PersonRequest, PersonRow } from '../../lib/model.gen';
import { passwordProblems } from '../../lib/password-rules';

export interface PersonDraft {
  readonly login: string;
  readonly password: string;
  readonly name: string;
  readonly credential: string;
  readonly admin: boolean;
  readonly closed: boolean;
  /** Role by team id; a team without a role is not in here. */
  readonly roles: Readonly<Record<string, string>>;
}

export interface PersonProblem {
  readonly field: 'login' | 'password' | 'name';
  readonly message: string;
}

export const ROLES = [
  { value: '', label: 'Not in it' },
  { value: 'assistant', label: 'Assistant' },
  { value: 'clinician', label: 'Clinician' },
  { value: 'lead', label: 'Lead' },
] as const;

export const EMPTY_PERSON: PersonDraft = { login: '', password: '', name: '', credential: '', admin: false, closed: false, roles: {} };

export function draftOf(person: PersonRow): PersonDraft {
  const { login, name, credential, admin, closed, teams } = person;
  return { login, password: '', name, credential, admin, closed, roles: Object.fromEntries(teams.map((team) => [team.id, team.role])) };
}

/** Every problem; a new account also needs a name to sign in with and a password. */
export function personProblems(draft: PersonDraft, isNew: boolean): readonly PersonProblem[] {
  const found: PersonProblem[] = [];
  if (draft.name.trim() === '') found.push({ field: 'name', message: 'Name: write the name as it stands on paper.' });
  if (!isNew) return found;
  if (draft.login.trim() === '') found.push({ field: 'login', message: 'Sign-in name: write the name that the person signs in with.' });
  return [...found, ...passwordProblems(draft.password)];
}

/** The request for a new account, or for a change of one. */
export function requestOf(draft: PersonDraft, isNew: boolean): PersonRequest {
  const teams = Object.entries(draft.roles)
    .filter(([, role]) => role !== '')
    .map(([id, role]) => ({ id, role }));
  const both = { name: draft.name.trim(), credential: draft.credential.trim(), admin: draft.admin, closed: draft.closed, teams };
  return isNew ? { ...both, login: draft.login.trim(), password: draft.password } : both;
}
