/**
 * Coming in by the organisation's own sign-in. It says who somebody is and gives
 * this tablet nothing to open its rows with: that takes a tablet password, which
 * stays here. All is read from the server's session and from the disk, so a page
 * that is closed in the middle goes on where it was.
 */
import { readAnswer, sessionAnswer, type SessionAnswerIn } from '../api/schemas';
import type { Engine } from '../engine/engine';
import { sayBadInput, StoreError } from '../errors';
import { enterWithAnswer, unlockOffline, type SessionDeps, type SignedIn } from './session';

/** Somebody whom the organisation has signed in. */
export interface Arrival {
  readonly name: string;
  /** What opens the tablet without a network, together with the tablet password. */
  readonly login: string;
  /** What their teams are called. */
  readonly teams: readonly string[];
  /** Rows of theirs lie here: the password is asked for. Else one is chosen. */
  readonly known: boolean;
}

/** What the server says of the session, or null where it does not wait for a tablet password. */
async function singleSignOn({ http }: SessionDeps): Promise<SessionAnswerIn | null> {
  const answer = readAnswer(sessionAnswer, (await http({ method: 'GET', path: '/api/v1/session' })).json);
  return answer.unlock === 'password-needed' && answer.login !== '' ? answer : null;
}

/** Who waits to open this tablet, or null; rejects with StoreError where the server does not say. */
export async function arrival(deps: SessionDeps): Promise<Arrival | null> {
  const answer = await singleSignOn(deps);
  if (answer === null) return null;
  const { login, person, teams } = answer;
  return {
    name: person.name,
    login,
    teams: teams.map((team) => team.name),
    known: (await deps.keyStore.find(login))?.person === person.id,
  };
}

/** The address to go to, with the tablet's id where only one person's rows lie here. */
export async function startAddress({ keyStore }: SessionDeps, start: string): Promise<string> {
  // What a forgotten password locks has a longer key.
  const [one, ...more] = (await keyStore.all()).filter(({ key, tablet }) => tablet !== '' && !key.includes(':'));
  return one === undefined || more.length > 0 ? start : `${start}?tablet=${encodeURIComponent(one.tablet)}`;
}

/**
 * Why a password is too easy for a tablet of theirs, or undefined. The program
 * says so by the rule and the list that the server has. It ends with its answer,
 * and the memory in which the password was with it.
 */
export async function tooEasy(engine: Engine, who: Arrival, password: string, host: string): Promise<string | undefined> {
  try {
    const bad = await engine.ask('check-password', { password, context: [who.name, who.login, host, ...who.teams] });
    return bad === null ? undefined : sayBadInput(bad);
  } finally {
    engine.stop();
  }
}

/**
 * Opens what is here with the tablet password, also when the network went
 * meanwhile; begins with the one that was chosen where there is nothing, or where
 * the one before is `forgotten`.
 */
export async function openWithSingleSignOn(
  deps: SessionDeps,
  { login, known }: Arrival,
  password: string,
  forgotten = false,
): Promise<SignedIn> {
  let answer: SessionAnswerIn | null;
  try {
    answer = await singleSignOn(deps);
  } catch (error) {
    if (!known || forgotten || !(error instanceof StoreError)) throw error;
    return unlockOffline(deps, login, password);
  }
  if (answer?.login !== login) throw new StoreError('sign-in', 'Your sign-in has ended. Sign in at your organisation again.');
  return enterWithAnswer(deps, { login, password, forgotten }, answer, true);
}
