/**
 * The tablet's store: everything a screen may know and do. Signals are read,
 * functions write. Nothing here shows anything.
 */
import { computed, signal, type ReadonlySignal, type Signal } from '@preact/signals';
import type { Control, Ref } from '../model.gen';
import { createBrowser } from './browser';
import type { DatabaseState } from './db';
import type { Desk } from './desk';
import type { Drafts } from './drafts';
import { StoreError } from './errors';
import type { Colleague } from './people';
import type { OutboxFile } from './sealing';
import type { SessionDeps } from './session';
import type { ChecklistCard, ClientCard, ClientView, Pack, Plausibility, Session, SyncState, VisitView } from './types';

export { newId } from './bytes';
export { StoreError } from './errors';
export type { DatabaseState } from './db';
export type { StoreErrorCode } from './errors';
export type { Colleague } from './people';
export type { OutboxFile } from './sealing';
export type * from './types';
export type * from './definition';

const browser = createBrowser(() => { forget(); });
const desk: Signal<Desk | null> = signal(null);
const signedIn: Signal<Session | null> = signal(null);

export const session: ReadonlySignal<Session | null> = signedIn;
/** How the records on this tablet stand, as last seen. */
export const records: ReadonlySignal<DatabaseState> = browser.records;
export const clients: ReadonlySignal<readonly ClientCard[]> = computed(() => desk.value?.book.clients.value ?? []);
/** The controls that are in the kit of the person's teams, as this tablet knows them, by name. */
export const kit: ReadonlySignal<readonly Control[]> = computed(() => desk.value?.book.kit.value ?? []);
/** Checklists on this tablet, the current ones first. */
export const checklists: ReadonlySignal<readonly ChecklistCard[]> = computed(() => desk.value?.checklists.cards.value ?? []);

const nothing: SyncState = {
  asked: false, online: false, running: false, lastSent: '', waiting: 0, oldestWaiting: '', refused: [], dealtWith: [], needsChoice: 0, newer: 0, left: [], clockAhead: 0, error: null,
};
export const syncState: ReadonlySignal<SyncState> = computed(() => desk.value?.state.value ?? nothing);

/** What is on this device of each team that the person is in. */
export const packs: ReadonlySignal<ReadonlyMap<string, Pack>> = computed(() => desk.value?.packing.packs.value ?? new Map());

/** Takes a team's clients onto this device, or goes on doing so. Rejects with StoreError. */
export async function pack(team: string): Promise<void> {
  const open = atDesk();
  await open.packing.choose(team, 'on');
  browser.askToStay();
  open.loop.wake();
}

/** Stops taking in a team's entries until pack is called again; what is here stays. */
export async function pausePacking(team: string): Promise<void> {
  await atDesk().packing.choose(team, 'paused');
}

/** Takes a team's clients off this device; refused while something of theirs is nowhere else. */
export async function unpack(team: string): Promise<void> {
  await atDesk().unpack(team);
}

/** A live view of one client; null while it loads or when it is not here. */
export function openClient(id: string): ReadonlySignal<ClientView | null> {
  return computed(() => desk.value?.book.openClient(id).value ?? null);
}

/** A live view of one visit with its result; null while it loads. */
export function openVisit(id: string): ReadonlySignal<VisitView | null> {
  return computed(() => desk.value?.book.openVisit(id).value ?? null);
}

/** Colleagues by id, as last heard from the server; known without a network. */
export const colleagues: ReadonlySignal<ReadonlyMap<string, Colleague>> = computed(() => desk.value?.people.colleagues.value ?? new Map());

/**
 * What is being counted and is not an entry yet, for the person at the desk.
 * Nothing is there, and nothing is kept, while the tablet is locked.
 */
export const drafts: Omit<Drafts, 'close'> = {
  load: (key) => desk.peek()?.drafts.load(key) ?? null,
  keep: (key, value) => desk.peek()?.drafts.keep(key, value),
  drop: (key) => desk.peek()?.drafts.drop(key),
  failing: computed(() => desk.value?.drafts.failing.value ?? new Set()),
};

function atDesk(): Desk {
  if (desk.value === null) throw new StoreError('locked', 'This tablet is locked. Sign in to go on; nothing is lost.');
  return desk.value;
}

/**
 * Writes one event. Resolves with its name when the strict transaction is
 * complete, so "saved" may be shown; rejects with StoreError otherwise.
 */
export async function write(kind: string, subject: string, body: unknown): Promise<Ref> {
  const open = atDesk();
  if (signedIn.value?.tablet === '') throw new StoreError('refused', 'This account is in no team, so it cannot make entries.');
  const ref = await open.book.write(kind, subject, body);
  browser.askToStay();
  if (kind === 'visit-signed' || kind === 'amendment-made') void open.sealSigned();
  return ref;
}

/**
 * Everything that waits, as a file that only the organisation can open: the
 * last resort where a tablet cannot send. Rejects with StoreError.
 */
export async function exportOutbox(): Promise<OutboxFile> {
  return atDesk().sealOutbox();
}

/** The person has read what other tablets held. */
export async function leftRead(): Promise<void> {
  await atDesk().left.keep([]);
}

export async function syncNow(): Promise<void> {
  await atDesk().loop.now();
}

let login = '';

/** Keys, rows and sending; fetched after the first paint, or when somebody signs in before that. */
const unlocking = async () => {
  const { unlock: lazy } = await import('../app/screens');
  deps ??= lazy.createSession(browser.world);
  return { ...lazy, deps };
};
let deps: SessionDeps | undefined;

/** Fetches what signing in needs before somebody does. */
export function warmUnlock(): void {
  unlocking().catch(() => undefined);
}

/**
 * Signs in with the server when it answers, else unlocks what is on this
 * tablet. `oldPassword` opens rows that were locked before a password change.
 */
export async function signIn(name: string, password: string, oldPassword?: string): Promise<void> {
  const lazy = await unlocking();
  const open = desk.value;
  if (open !== null && signedIn.value !== null && name.trim() === login) {
    const answer = await lazy.renewSession(browser.http, name, password, signedIn.value.tablet);
    if (answer === 'offline') return;
    // A server that does not know this tablet gives it another name, from the start.
    const known = answer.tablet === signedIn.value.tablet && (answer.tablet !== '' || answer.teams.length === 0);
    if (known && answer.person.id === signedIn.value.person.id) {
      signedIn.value = { ...signedIn.value, person: answer.person, teams: answer.teams, admin: answer.admin, online: true };
      await open.packing.setTeams(answer.teams);
      open.loop.wake();
      return;
    }
  }
  forget();
  const done = await lazy.signInWith(lazy.deps, { login: name, password, oldPassword });
  login = name.trim();
  desk.value = done.desk;
  signedIn.value = done.session;
  done.desk.loop.wake();
}

/** Ends the server session where it can and locks this tablet. Rows stay, encrypted. */
export async function signOut(): Promise<void> {
  lock();
  try {
    await browser.http({ method: 'DELETE', path: '/api/v1/session' });
  } catch {
    // Without a network the server's session ends by its own time.
  }
}

/** Forgets the key and every open view, in this person's other tabs too; rows stay, encrypted. */
export function lock(): void {
  desk.value?.lockOthers();
  forget();
}

function forget(): void {
  const open = desk.value;
  signedIn.value = null;
  desk.value = null;
  login = '';
  open?.close();
}

/** A call for screens that work online only; throws StoreError. */
export async function api<T>(method: string, path: string, body?: unknown): Promise<T> {
  const answer = await browser.http(body === undefined ? { method, path } : { method, path, body });
  if (answer.status === 409) {
    const said = (answer.json as { readonly message?: unknown } | null)?.message;
    throw new StoreError('conflict', typeof said === 'string' ? said : 'Somebody else changed this meanwhile.', { status: 409, detail: answer.json });
  }
  return answer.json as T;
}

/** Judges one measured value before it is saved. */
export function plausible(what: string, site: string, value: number, unit: string): Promise<Plausibility> {
  return browser.engine.plausible(what, site, value, unit);
}

/** The engine's table of limits, tab-separated lines. */
export function thresholds(): Promise<string> {
  return browser.engine.thresholds();
}

/** Sums up series of readings that are being taken; lines as in the engine's WIRE.md. */
export function repeats(series: string): Promise<string> {
  return browser.engine.repeats(series);
}

/** The figures of a run that is being driven: figure lines for one run line. */
export function runFigures(line: string): Promise<string> {
  return browser.engine.run(line);
}

/** Forces in another unit of force. */
export function convertForces(values: readonly number[], from: string, to: string): Promise<readonly number[]> {
  return browser.engine.convert(values, from, to);
}

/** The plan drawing of a passage: lines of walls, poses, outlines and the tightest point. */
export function plan(chair: string, place: string): Promise<string> {
  return browser.engine.plan(chair, place);
}

/** Which settings to try for an observed problem: lines of key, way, step, sentence and re-tests. */
export function advice(problem: string): Promise<string> {
  return browser.engine.advice(problem);
}

/** What changed between visits and when a control may become too heavy: lines as in the engine's WIRE.md. */
export function trend(visits: string): Promise<string> {
  return browser.engine.trend(visits);
}

/** Starts the engine after the first paint, before it is needed. */
export function warmEngine(): void {
  browser.engine.warm();
}

/** The page or the network came back: exchange soon. */
export function wakeSync(): void {
  desk.value?.loop.wake();
}
