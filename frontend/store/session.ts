/**
 * Signing in. With a network the server judges the password and this tablet
 * keeps a wrapped key for it; without one the password opens that key or does
 * not. Rows are never readable without it.
 */
import * as v from 'valibot';
import type { Desk, DeskKey } from './desk';
import { StoreError } from './errors';
import type { Http } from './http';
import type { Keepers } from './keepers';
import type { KeeperRow } from './rows';
import type { Session } from './types';
import { readAnswer, sessionAnswer, tabletMade, type SessionAnswerIn } from './wire';

export interface SessionDeps {
  readonly http: Http;
  readonly keepers: Keepers;
  readonly openDesk: (who: DeskKey) => Promise<Desk>;
  /** What the tablet is called in the team's list. */
  readonly label: () => string;
}

export interface SignedIn {
  readonly session: Session;
  readonly desk: Desk;
}

const profileSchema = v.object({
  person: v.object({ id: v.string(), name: v.string(), credential: v.string() }),
  teams: v.array(v.object({ id: v.string(), name: v.string(), role: v.picklist(['assistant', 'clinician', 'lead']) })),
  admin: v.boolean(),
});
type Profile = v.InferOutput<typeof profileSchema>;

export async function signInWith(deps: SessionDeps, login: string, password: string, oldPassword?: string): Promise<SignedIn> {
  const keeper = await deps.keepers.find(login);
  const answer = await askServer(deps.http, login, password, keeper?.tablet);
  if (answer === 'offline') return unlockOffline(deps, login, password);
  const who = await openKey(deps, login, password, oldPassword, answer);
  const desk = await deps.openDesk(who);
  if (who.adopt !== undefined) await renameKeeper(deps.keepers, login, who.tablet);
  const profile = { person: answer.person, teams: answer.teams, admin: answer.admin };
  await keepProfile(desk, profile, answer);
  return signedIn(profile, who, desk, true);
}

/** Signs the person who is at the desk in again, with the rows left open. */
export async function renewSession(http: Http, login: string, password: string, tablet: string): Promise<SessionAnswerIn | 'offline'> {
  return askServer(http, login, password, tablet);
}

async function askServer(http: Http, login: string, password: string, tablet: string | undefined): Promise<SessionAnswerIn | 'offline'> {
  const body = { name: login.trim(), password, ...(tablet ? { tablet } : {}) };
  try {
    return readAnswer(sessionAnswer, (await http({ method: 'POST', path: '/api/v1/session', body })).json);
  } catch (error) {
    if (!(error instanceof StoreError)) throw error;
    // No network, a network's own page, or a server in trouble: the tablet opens by itself.
    if (error.code === 'offline' || error.code === 'portal' || error.code === 'server') return 'offline';
    if (error.code === 'sign-in') throw new StoreError('password', 'The name or the password is wrong.', error.info);
    throw error;
  }
}

async function openKey(deps: SessionDeps, login: string, password: string, oldPassword: string | undefined, answer: SessionAnswerIn): Promise<DeskKey> {
  const person = answer.person.id;
  const keeper = await deps.keepers.find(login);
  if (keeper === undefined || keeper.person !== person) {
    const tablet = answer.teams.length === 0 ? '' : await registerTablet(deps);
    return { person, tablet, key: await deps.keepers.create(login, person, tablet, password) };
  }
  const key = await unlockKeeper(deps.keepers, keeper, login, password, oldPassword);
  if (answer.teams.length === 0 || answer.tablet === keeper.tablet) return { person, tablet: keeper.tablet, key };
  // The server does not know this tablet (any more): it gets a new name.
  const tablet = await registerTablet(deps);
  return { person, tablet, key, adopt: answer.log };
}

async function unlockKeeper(keepers: Keepers, keeper: KeeperRow, login: string, password: string, oldPassword: string | undefined): Promise<CryptoKey> {
  try {
    return await keepers.unlock(keeper, password);
  } catch (error) {
    if (!(error instanceof StoreError) || error.code !== 'password') throw error;
    if (oldPassword === undefined) {
      throw new StoreError('changed-password', 'Your password was changed since you last used this tablet. Type the one before once, to open what is on it.');
    }
    return keepers.change(keeper, login, oldPassword, password);
  }
}

/** Only after the rows were moved: a crash before it repeats the move, which does no harm. */
async function renameKeeper(keepers: Keepers, login: string, tablet: string): Promise<void> {
  const keeper = await keepers.find(login);
  if (keeper !== undefined) await keepers.rename(keeper, tablet);
}

async function registerTablet(deps: SessionDeps): Promise<string> {
  const answer = await deps.http({ method: 'POST', path: '/api/v1/tablets', body: { label: deps.label() } });
  return readAnswer(tabletMade, answer.json).id;
}

async function unlockOffline(deps: SessionDeps, login: string, password: string): Promise<SignedIn> {
  const keeper = await deps.keepers.find(login);
  if (keeper === undefined) {
    throw new StoreError('never-online', 'The server cannot be reached, and you have not signed in on this tablet before. Sign in once with a network.');
  }
  const who = { person: keeper.person, tablet: keeper.tablet, key: await deps.keepers.unlock(keeper, password) };
  const desk = await deps.openDesk(who);
  const profile = v.safeParse(profileSchema, await desk.shelf.secret('profile'));
  if (!profile.success) {
    desk.close();
    throw new StoreError('never-online', 'Your first sign-in on this tablet was not completed. Sign in once with a network.');
  }
  return signedIn(profile.output, who, desk, false);
}

async function keepProfile(desk: Desk, profile: Profile, { log, organisation }: SessionAnswerIn): Promise<void> {
  const box = await desk.shelf.seal('meta', 'profile', profile);
  const known = await desk.shelf.text('log');
  await desk.shelf.db.write(['meta'], async (tx) => {
    await tx.objectStore('meta').put({ key: 'profile', box });
    if (organisation !== undefined) await tx.objectStore('meta').put({ key: 'organisation', text: JSON.stringify(organisation) });
    // Another log than the known one is left for the exchange to settle.
    if (known === '' && log !== '') await tx.objectStore('meta').put({ key: 'log', text: log });
  });
}

async function signedIn(profile: Profile, who: DeskKey, desk: Desk, online: boolean): Promise<SignedIn> {
  await desk.packing.setTeams(profile.teams);
  return { desk, session: { ...profile, tablet: who.tablet, unlocked: true, online } };
}
