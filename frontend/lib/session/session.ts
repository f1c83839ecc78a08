/**
 * Signing in. With a network the server judges the password and this tablet
 * keeps a wrapped key for it; without one the password opens that key or does
 * not. Rows are never readable without it.
 */
import type { Desk, DeskKey } from './workspace';
import { StoreError } from '../errors';
import type { Http } from '../api/http';
import type { Keepers } from './key-store';
import type { KeyRing } from '../crypto/key-ring';
import type { KeeperRow } from '../database/rows';
import type { Session } from '../records/types';
import { readAnswer, sessionAnswer, tabletMade, type SessionAnswerIn, type TabletMadeIn } from '../api/schemas';
import * as v from '../schema';

export interface SessionDeps {
  readonly http: Http;
  readonly keepers: Keepers;
  readonly openDesk: (who: DeskKey) => Promise<Desk>;
  /** What the tablet is called in the team's list. */
  readonly label: () => string;
}

export interface SignedIn {
  /** What the desk was opened with. */
  readonly who: Keyed;
  readonly session: Session;
  readonly desk: Desk;
}

const profileSchema = v.object({
  person: v.object({ id: v.string, name: v.string, credential: v.string }),
  teams: v.list(v.object({ id: v.string, name: v.string, role: v.among('assistant', 'clinician', 'lead') })),
  admin: v.boolean,
});
type Profile = v.Of<typeof profileSchema>;

export interface SignInAsk {
  readonly login: string;
  readonly password: string;
  /** Opens rows that were locked before a password change. */
  readonly oldPassword?: string | undefined;
  /** The password of before is forgotten: the rows that it locks are put away, and new ones begun. */
  readonly forgotten?: boolean | undefined;
}

export async function signInWith(deps: SessionDeps, ask: SignInAsk): Promise<SignedIn> {
  const { login, password } = ask;
  await deps.keepers.mayTry(login);
  const keeper = await deps.keepers.find(login);
  const local = keeper?.local === undefined ? null : await openLocal(deps, keeper, password);
  if (local !== null && 'desk' in local) return local;
  const answer = await (local === null
    ? askCounted(deps, login, password, keeper?.tablet)
    : askServer(deps.http, login, password, keeper?.tablet));
  if (answer !== 'offline') return comeIn(deps, ask, answer);
  if (local !== null) throw local;
  return unlockOffline(deps, login, password);
}

/** A password that the tablet alone knows is no business of the server's. Where it does not open the tablet, what was typed may be one for the server. */
async function openLocal(deps: SessionDeps, keeper: KeeperRow, password: string): Promise<SignedIn | StoreError> {
  let ring: KeyRing;
  try {
    ring = await deps.keepers.unlock(keeper, password);
  } catch (error) {
    if (error instanceof StoreError && error.code === 'password') return error;
    throw error;
  }
  return openOffline(deps, keeper, ring);
}

/** Opens or begins the rows of somebody whom the server knows. Who was vouched for gave it no password. */
export async function comeIn(deps: SessionDeps, ask: SignInAsk, answer: SessionAnswerIn, vouched = false): Promise<SignedIn> {
  const { desk, ...who } = await openRows(deps, await openKey(deps, ask, answer, vouched));
  const profile = { person: answer.person, teams: answer.teams, admin: answer.admin };
  await keepProfile(desk, profile, answer);
  return signedIn(deps, profile, who, desk, true);
}

/** A password that the server refuses counts as a wrong one here as well. */
async function askCounted(
  deps: SessionDeps,
  login: string,
  password: string,
  tablet: string | undefined,
): Promise<SessionAnswerIn | 'offline'> {
  try {
    return await askServer(deps.http, login, password, tablet);
  } catch (error) {
    if (error instanceof StoreError && error.code === 'password') await deps.keepers.wrong(login);
    throw error;
  }
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

/** What a desk is opened with: the keeper's names and the keys that were opened. */
export function deskKey(row: KeeperRow, { key, older }: KeyRing): Keyed {
  const { person, tablet, rows, turn } = row;
  return { keeper: row.key, person, tablet, rows, turn, key, older };
}

/**
 * Opens the rows. Where they are gone but their key is not, the tablet's numbers
 * would begin again at 1 under a name that the server knows: it gets a new name.
 */
async function openRows(deps: SessionDeps, who: Keyed): Promise<Keyed & { readonly desk: Desk }> {
  const desk = await deps.openDesk(who);
  if (who.holding !== undefined) {
    if (who.holding.length > 0) await desk.left.keep(who.holding);
    return { ...who, desk };
  }
  if (who.tablet === '' || (await desk.shelf.text('log')) !== '') return { ...who, desk };
  desk.close();
  const { id, holding } = await registerTablet(deps);
  await deps.keepers.rename(who.keeper, id);
  const again = { ...who, tablet: id };
  const opened = await deps.openDesk(again);
  if (holding.length > 0) await opened.left.keep(holding);
  return { ...again, desk: opened };
}

export interface Keyed extends DeskKey {
  /** Key of the keeper row. */
  readonly keeper: string;
  /** What the person's other tablets held when this one was registered just now. */
  readonly holding?: TabletMadeIn['holding'];
}

async function openKey(deps: SessionDeps, ask: SignInAsk, answer: SessionAnswerIn, vouched: boolean): Promise<Keyed> {
  const { keepers } = deps;
  const { login, password } = ask;
  const person = answer.person.id;
  const keeper = await keepers.find(login);
  if (keeper === undefined || keeper.person !== person || ask.forgotten) {
    const { id, holding } = answer.teams.length === 0 ? { id: '', holding: [] } : await registerTablet(deps);
    const { row, ring } = await keepers.create(login, person, id, password, vouched);
    // What a forgotten password locks is still here, and is not what was cleared.
    return { ...deskKey(row, ring), holding: ask.forgotten ? [] : holding };
  }
  const ring = await (vouched ? keepers.unlock(keeper, password) : unlockKeeper(keepers, keeper, ask));
  const row = (await keepers.find(login)) ?? keeper;
  if (keeper.tablet === '') {
    if (answer.teams.length === 0) return deskKey(row, ring);
    const { id } = await registerTablet(deps);
    await keepers.rename(row.key, id);
    return { ...deskKey(row, ring), tablet: id };
  }
  // A server restored from an older copy does not know this tablet: it keeps its
  // name, also with somebody who is in no team now and has something to send.
  if (answer.tablet !== keeper.tablet) await registerTablet(deps, keeper.tablet);
  return deskKey(row, ring);
}

async function unlockKeeper(keepers: Keepers, keeper: KeeperRow, { password, oldPassword }: SignInAsk): Promise<KeyRing> {
  try {
    return await keepers.unlock(keeper, password, 'trusted');
  } catch (error) {
    if (!(error instanceof StoreError) || error.code !== 'password') throw error;
    if (oldPassword === undefined) {
      throw new StoreError(
        'changed-password',
        'Your password was changed since you last used this tablet. Type the one before once, to open what is on it.',
      );
    }
    return keepers.change(keeper, oldPassword, password);
  }
}

async function registerTablet(deps: SessionDeps, id?: string): Promise<TabletMadeIn> {
  const answer = await deps.http({
    method: 'POST',
    path: '/api/v1/tablets',
    body: { label: deps.label(), ...(id === undefined ? {} : { id }) },
  });
  return readAnswer(tabletMade, answer.json);
}

export async function unlockOffline(deps: SessionDeps, login: string, password: string): Promise<SignedIn> {
  const keeper = await deps.keepers.find(login);
  if (keeper === undefined) {
    throw new StoreError(
      'never-online',
      'The server cannot be reached, and you have not signed in on this tablet before. Sign in once with a network.',
    );
  }
  return openOffline(deps, keeper, await deps.keepers.unlock(keeper, password));
}

/** Opens the desk of somebody whose keys were opened without the server. */
export function openOffline(deps: SessionDeps, keeper: KeeperRow, ring: KeyRing): Promise<SignedIn> {
  return openKeyed(deps, deskKey(keeper, ring));
}

/** Opens the desk again with keys that stayed in memory, unless they were changed meanwhile. */
export async function reopen(deps: SessionDeps, who: Keyed): Promise<SignedIn> {
  const row = (await deps.keepers.all()).find((one) => one.key === who.keeper);
  if (row === undefined || row.turn !== who.turn || row.rows !== who.rows) {
    throw new StoreError('locked', 'The keys of this tablet were changed meanwhile. Sign in with your password.');
  }
  return openKeyed(deps, who);
}

async function openKeyed(deps: SessionDeps, who: Keyed): Promise<SignedIn> {
  const desk = await deps.openDesk(who);
  const profile = v.fitting(profileSchema, await desk.shelf.secret('profile'));
  if (profile === undefined) {
    await desk.close();
    throw new StoreError('never-online', 'Your first sign-in on this tablet was not completed. Sign in once with a network.');
  }
  return signedIn(deps, profile, who, desk, false);
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

async function signedIn(deps: SessionDeps, profile: Profile, who: Keyed, desk: Desk, online: boolean): Promise<SignedIn> {
  await desk.packing.setTeams(profile.teams);
  if (who.older !== undefined && who.older.length > 0) {
    // Other tabs have the older keys only.
    desk.lockOthers();
    void desk.finishTurn(() => deps.keepers.settle(who.keeper)).catch(() => undefined);
  }
  return { desk, who, session: { ...profile, tablet: who.tablet, unlocked: true, online } };
}
