/**
 * Signing in. With a network the server judges the password and this tablet
 * keeps a wrapped key for it; without one the password opens that key or does
 * not. Rows are never readable without it.
 */
import type { Http } from '../api/http';
import { readAnswer, sessionAnswer, tabletMade, type SessionAnswerIn, type TabletMadeIn } from '../api/schemas';
import type { KeyRing } from '../crypto/key-ring';
import type { KeyRow } from '../database/rows';
import { StoreError } from '../errors';
import { roles } from '../model.gen';
import type { Session } from '../records/types';
import * as v from '../schema';
import type { KeyStore } from './key-store';
import type { WorkspaceKeys } from './person-rows';
import type { Workspace } from './workspace';

export interface SessionDeps {
  readonly http: Http;
  readonly keyStore: KeyStore;
  readonly openWorkspace: (who: WorkspaceKeys) => Promise<Workspace>;
  /** Sends what waits in rows that are not to be opened as a workspace. */
  readonly sendRows: (who: WorkspaceKeys) => Promise<void>;
  /** What the tablet is called in the team's list. */
  readonly label: () => string;
}

export interface SignedIn {
  /** What the workspace was opened with. */
  readonly who: OpenKeys;
  readonly session: Session;
  readonly workspace: Workspace;
}

const profileSchema = v.object({
  person: v.object({ id: v.string, name: v.string, credential: v.string }),
  teams: v.list(v.object({ id: v.string, name: v.string, role: v.literal(...roles) })),
  admin: v.boolean,
});
type Profile = v.Infer<typeof profileSchema>;

export interface SignInAsk {
  readonly login: string;
  readonly password: string;
  /** Opens rows that were locked before a password change. */
  readonly oldPassword?: string | undefined;
  /** The password of before is forgotten: the rows that it locks stay as they are, and new ones are begun. */
  readonly forgotten?: boolean | undefined;
}

export async function signInWith(deps: SessionDeps, ask: SignInAsk): Promise<SignedIn> {
  const { login, password } = ask;
  await deps.keyStore.mayTry(login);
  const keyRow = await deps.keyStore.find(login);
  const local = keyRow?.local === undefined ? null : await openLocal(deps, keyRow, password);
  if (local !== null && 'workspace' in local) return local;
  const answer = await (local === null
    ? askCounted(deps, login, password, keyRow?.tablet)
    : askServer(deps.http, login, password, keyRow?.tablet));
  if (answer !== 'offline') return enterWithAnswer(deps, ask, answer);
  if (local !== null) throw local;
  return unlockOffline(deps, login, password);
}

/** A password that the tablet alone knows is no business of the server's. Where it does not open the tablet, what was typed may be one for the server. */
async function openLocal(deps: SessionDeps, keyRow: KeyRow, password: string): Promise<SignedIn | StoreError> {
  let ring: KeyRing;
  try {
    ring = await deps.keyStore.unlock(keyRow, password);
  } catch (error) {
    if (error instanceof StoreError && error.code === 'password') return error;
    throw error;
  }
  return openOffline(deps, keyRow, ring);
}

/** Opens or begins the rows of somebody whom the server knows. With single sign-on the person gave it no password. */
export async function enterWithAnswer(deps: SessionDeps, ask: SignInAsk, answer: SessionAnswerIn, singleSignOn = false): Promise<SignedIn> {
  const { workspace, ...who } = await openRows(deps, await openKey(deps, ask, answer, singleSignOn));
  const profile = { person: answer.person, teams: answer.teams, admin: answer.admin };
  return orClose(workspace, async () => {
    await keepProfile(workspace, profile, answer);
    return signedIn(deps, profile, who, workspace, true);
  });
}

/** Goes on with a workspace that was opened; where that fails, nobody is left with its keys. */
async function orClose<T>(workspace: Workspace, work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    await workspace.close();
    throw error;
  }
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
    if (error instanceof StoreError && error.code === 'password') await deps.keyStore.wrong(login);
    throw error;
  }
}

/** Signs the person who is signed in in again, with the rows left open. */
export async function renewSession(http: Http, login: string, password: string, tablet: string): Promise<SessionAnswerIn | 'offline'> {
  return askServer(http, login, password, tablet);
}

async function askServer(http: Http, login: string, password: string, tablet: string | undefined): Promise<SessionAnswerIn | 'offline'> {
  const body = { name: login.trim(), password, ...(tablet ? { tablet } : {}) };
  try {
    return readAnswer(sessionAnswer, (await http({ method: 'POST', path: '/api/v1/session', body })).json);
  } catch (error) {
    if (!(error instanceof StoreError)) throw error;
    // Where nothing of this person is on the tablet, what the server or the network says is all that helps.
    if (tablet === undefined && (error.code === 'portal' || error.code === 'server')) throw error;
    // No network, a network's own page, or a server in trouble: the tablet opens by itself.
    if (error.code === 'offline' || error.code === 'portal' || error.code === 'server') return 'offline';
    if (error.code === 'sign-in') throw new StoreError('password', 'The name or the password is wrong.', error.info);
    throw error;
  }
}

/** What a workspace is opened with: the names in the key row and the keys that were opened. */
export function workspaceKeys(row: KeyRow, { key, older, setKeys }: KeyRing): OpenKeys {
  const { person, tablet, rows, turn } = row;
  return { keyRowId: row.key, person, tablet, rows, turn, key, older, setKeys };
}

/**
 * Opens the rows. Where they are gone but their key is not, the tablet's numbers
 * would begin again at 1 under a name that the server knows: it gets a new name.
 */
async function openRows(deps: SessionDeps, who: OpenKeys): Promise<OpenKeys & { readonly workspace: Workspace }> {
  const workspace = await deps.openWorkspace(who);
  const { tablet, holding = [] } = who;
  const rows = await orClose(workspace, async () => {
    if (holding.length > 0) await workspace.holdings.keep(holding);
    return who.holding !== undefined || tablet === '' || (await workspace.store.text('log')) !== '';
  });
  if (rows) return { ...who, workspace };
  await workspace.close();
  const made = await registerTablet(deps);
  await deps.keyStore.rename(who.keyRowId, made.id);
  const again = { ...who, tablet: made.id };
  const opened = await deps.openWorkspace(again);
  if (made.holding.length > 0) await orClose(opened, () => opened.holdings.keep(made.holding));
  return { ...again, workspace: opened };
}

export interface OpenKeys extends WorkspaceKeys {
  /** Which row of the key store. */
  readonly keyRowId: string;
  /** What the person's other tablets held when this one was registered just now. */
  readonly holding?: TabletMadeIn['holding'];
}

async function openKey(deps: SessionDeps, ask: SignInAsk, answer: SessionAnswerIn, singleSignOn: boolean): Promise<OpenKeys> {
  const { keyStore } = deps;
  const { login, password } = ask;
  const person = answer.person.id;
  const keyRow = await keyStore.find(login);
  if (keyRow === undefined || keyRow.person !== person || ask.forgotten) {
    const { id, holding } = answer.teams.length === 0 ? { id: '', holding: [] } : await registerTablet(deps);
    const { row, ring } = await keyStore.create(login, person, id, password, singleSignOn);
    // What a forgotten password locks is still here, and is not what was cleared.
    return { ...workspaceKeys(row, ring), holding: ask.forgotten ? [] : holding };
  }
  const ring = await (singleSignOn ? keyStore.unlock(keyRow, password) : unlockKeyRow(keyStore, keyRow, ask));
  const row = (await keyStore.find(login)) ?? keyRow;
  if (keyRow.tablet === '') {
    if (answer.teams.length === 0) return workspaceKeys(row, ring);
    const { id } = await registerTablet(deps);
    await keyStore.rename(row.key, id);
    return { ...workspaceKeys(row, ring), tablet: id };
  }
  // A server restored from an older copy does not know this tablet: it keeps its
  // name, also with somebody who is in no team now and has something to send.
  if (answer.tablet !== keyRow.tablet) await registerTablet(deps, keyRow.tablet);
  return workspaceKeys(row, ring);
}

async function unlockKeyRow(keyStore: KeyStore, keyRow: KeyRow, { password, oldPassword }: SignInAsk): Promise<KeyRing> {
  try {
    return await keyStore.unlock(keyRow, password, 'trusted');
  } catch (error) {
    if (!(error instanceof StoreError) || error.code !== 'password') throw error;
    if (oldPassword === undefined) {
      throw new StoreError(
        'changed-password',
        'Your password was changed since you last used this tablet. Type the one before once, to open what is on it.',
      );
    }
    return keyStore.change(keyRow, oldPassword, password);
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
  const keyRow = await deps.keyStore.find(login);
  if (keyRow === undefined) {
    throw new StoreError(
      'never-online',
      'The server cannot be reached, and you have not signed in on this tablet before. Sign in once with a network.',
    );
  }
  return openOffline(deps, keyRow, await deps.keyStore.unlock(keyRow, password));
}

/** Opens the workspace of somebody whose keys were opened without the server. */
export function openOffline(deps: SessionDeps, keyRow: KeyRow, ring: KeyRing): Promise<SignedIn> {
  return openKeyed(deps, workspaceKeys(keyRow, ring));
}

/** Opens the workspace again with keys that stayed in memory, unless they were changed meanwhile. */
export async function reopen(deps: SessionDeps, who: OpenKeys): Promise<SignedIn> {
  const row = (await deps.keyStore.all()).find((one) => one.key === who.keyRowId);
  if (row === undefined || row.turn !== who.turn || row.rows !== who.rows) {
    throw new StoreError('locked', 'The keys of this tablet were changed meanwhile. Sign in with your password.');
  }
  return openKeyed(deps, who);
}

async function openKeyed(deps: SessionDeps, who: OpenKeys): Promise<SignedIn> {
  const workspace = await deps.openWorkspace(who);
  return orClose(workspace, async () => {
    const profile = v.tryParse(profileSchema, await workspace.store.secret('profile'));
    if (profile === undefined)
      throw new StoreError('never-online', 'Your first sign-in on this tablet was not completed. Sign in once with a network.');
    return signedIn(deps, profile, who, workspace, false);
  });
}

async function keepProfile(workspace: Workspace, profile: Profile, { log, organisation }: SessionAnswerIn): Promise<void> {
  const { store } = workspace;
  const box = await store.seal('meta', 'profile', profile);
  const keyBox = organisation === undefined ? undefined : await store.seal('meta', 'organisation', organisation);
  const known = await store.text('log');
  await store.db.write(['meta'], async (tx) => {
    await tx.objectStore('meta').put({ key: 'profile', box });
    if (keyBox !== undefined) await tx.objectStore('meta').put({ key: 'organisation', box: keyBox });
    // Another log than the known one is left for the exchange to settle.
    if (known === '' && log !== '') await tx.objectStore('meta').put({ key: 'log', text: log });
  });
}

async function signedIn(deps: SessionDeps, profile: Profile, who: OpenKeys, workspace: Workspace, online: boolean): Promise<SignedIn> {
  await workspace.teamDownloads.setTeams(profile.teams);
  if (who.older !== undefined && who.older.length > 0) {
    // Other tabs have the older keys only.
    workspace.lockOthers();
    void workspace.finishTurn(() => deps.keyStore.settle(who.keyRowId)).catch(() => undefined);
  }
  return { workspace, who, session: { ...profile, tablet: who.tablet, online } };
}
