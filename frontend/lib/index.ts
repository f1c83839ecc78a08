/**
 * What screens know of the tablet: everything a screen may know and do. Signals are read,
 * functions write. Nothing here shows anything.
 */
import { computed, type ReadonlySignal } from '@preact/signals';
import type { DatabaseState } from './database/database';
import type { Drafts } from './database/drafts';
import { lockedError, StoreError } from './errors';
import type {
  Advice,
  CeilingsOfItem,
  Control,
  Kind,
  MeasuredAnswer,
  PlanDrawing,
  PlanQuestion,
  PlausibleQuestion,
  Plausibility,
  Problem,
  Quantity,
  Ref,
  Result,
  Rose,
  RoseQuestion,
  RunTimed,
  Series,
  SeriesSummary,
  Threshold,
  Trend,
  TrendQuestion,
} from './model.gen';
import type { Colleague } from './records/colleagues';
import type { Opening } from './records/open-visit';
import type { ResultToSign } from './records/results';
import type { ChecklistCard, ClientCard, ClientView, TeamDownload, Session, SyncState, VisitView } from './records/types';
import { createAuth, type Auth } from './session/auth';
import { createBrowser, type Browser } from './session/browser';
import type { LockedRowsActions } from './session/locked-rows';
import type { Lazy } from './session/open-session';
import type { Arrival } from './session/single-sign-on';
import type { Workspace } from './session/workspace';
import { writeEntry } from './session/write-entry';
import type { OutboxFile } from './sync/sealing';

export { deviceLabel } from './session/browser';
export { newId } from './bytes';
export { BadInputError, StoreError } from './errors';
export type { DatabaseState } from './database/database';
export type { StoreErrorCode } from './errors';
export type { ResultToSign } from './records/results';
export type { Colleague } from './records/colleagues';
export type { OutboxFile } from './sync/sealing';
export { IDLE } from './session/open-session';
export type { Withdrawn } from './session/withdraw';
export type { Arrival } from './session/single-sign-on';
export type { LockedRows } from './session/locked-rows';
export type * from './records/types';

let loadUnlock: () => Promise<Lazy> = () => Promise.reject(new StoreError('unknown', 'The app has not started.'));

/** Says how to fetch the part of the program that unlocks the tablet: it comes with the screens, which this floor does not know. */
export function unlockWith(load: () => Promise<Lazy>): void {
  loadUnlock = load;
}

const auth: Auth = createAuth(
  () => browser,
  () => loadUnlock(),
);
const browser: Browser = createBrowser({
  lockedElsewhere: () => {
    auth.lockedElsewhere();
  },
  revoked: () => {
    auth.revoked();
  },
});
const { workspace } = auth;

export const session: ReadonlySignal<Session | null> = auth.session;
/** How the records on this tablet stand, as last seen. */
export const records: ReadonlySignal<DatabaseState> = browser.records;
export const clients: ReadonlySignal<readonly ClientCard[]> = computed(() => workspace.value?.projections.clients.value ?? []);
/** The controls that are in the kit of the person's teams, as this tablet knows them, by name. */
export const kit: ReadonlySignal<readonly Control[]> = computed(() => workspace.value?.projections.kit.value ?? []);
/** Checklists on this tablet, the current ones first. */
export const checklists: ReadonlySignal<readonly ChecklistCard[]> = computed(() => workspace.value?.checklists.cards.value ?? []);

const nothing: SyncState = {
  asked: false,
  online: false,
  running: false,
  lastSent: '',
  waiting: 0,
  oldestWaiting: '',
  refused: [],
  dealtWith: [],
  needsChoice: 0,
  newer: 0,
  holdings: [],
  altered: { rows: '', whole: '' },
  clockAhead: 0,
  error: null,
};
export const syncState: ReadonlySignal<SyncState> = computed(() => workspace.value?.state.value ?? nothing);

/** What is on this device of each team that the person is in. */
export const downloads: ReadonlySignal<ReadonlyMap<string, TeamDownload>> = computed(
  () => workspace.value?.teamDownloads.downloads.value ?? new Map(),
);

/** Takes a team's clients onto this device, or goes on doing so. Rejects with StoreError. */
export async function downloadTeam(team: string): Promise<void> {
  const open = requireWorkspace();
  await open.teamDownloads.choose(team, 'on');
  browser.askToStay();
  open.loop.wake();
}

/** Stops taking in a team's entries until downloadTeam is called again; what is here stays. */
export async function pauseDownload(team: string): Promise<void> {
  await requireWorkspace().teamDownloads.choose(team, 'paused');
}

/** Takes a team's clients off this device; refused while something of theirs is nowhere else. */
export async function removeDownload(team: string): Promise<void> {
  await requireWorkspace().removeDownload(team);
}

/** A live view of one client; null while it loads or when it is not here. */
export function openClient(id: string): ReadonlySignal<ClientView | null> {
  return computed(() => workspace.value?.projections.openClient(id).value ?? null);
}

/** A live view of one visit with its result; null while it loads. */
export function openVisit(id: string): ReadonlySignal<VisitView | null> {
  return computed(() => workspace.value?.projections.openVisit(id).value ?? null);
}

/** Why a visit is not shown yet: its entries may be here all the same. */
export function visitOpening(id: string): ReadonlySignal<Opening> {
  return computed(() => workspace.value?.projections.visitOpening(id).value ?? { state: 'opening', why: '' });
}

/** Clients, visits and controls with news on this tablet that is not shown yet, and why not where it cannot be now. */
export const unread: ReadonlySignal<{ readonly count: number; readonly why: string }> = computed(() => ({
  count: workspace.value?.projections.unread.value ?? 0,
  why: workspace.value?.projections.unreadWhy.value ?? '',
}));

/** Colleagues by id, as last heard from the server; known without a network. */
export const colleagues: ReadonlySignal<ReadonlyMap<string, Colleague>> = computed(
  () => workspace.value?.people.colleagues.value ?? new Map(),
);

/**
 * What is being counted and is not an entry yet, for the person who is signed in.
 * Nothing is there, and nothing is kept, while the tablet is locked.
 */
export const drafts: Omit<Drafts, 'close' | 'reread'> = {
  keys: () => workspace.peek()?.drafts.keys() ?? [],
  load: (key) => workspace.peek()?.drafts.load(key) ?? null,
  keep: (key, value) => workspace.peek()?.drafts.keep(key, value),
  drop: (key) => workspace.peek()?.drafts.drop(key),
  change: (key, how) => workspace.peek()?.drafts.change(key, how),
  arrived: computed(() => workspace.value?.drafts.arrived.value ?? null),
  failing: computed(() => workspace.value?.drafts.failing.value ?? new Set()),
};

// What was computed from the last workspace still points to it, and so to its key,
// until it is computed again.
auth.session.subscribe((one) => {
  if (one === null)
    for (const view of [clients, kit, checklists, syncState, downloads, colleagues, drafts.failing, drafts.arrived]) view.peek();
});

/**
 * Runs when the tablet locks and when somebody else is signed in: what this page
 * holds of the last person is forgotten. A renewed session is the same person's.
 */
export function onPersonLeft(forget: () => void): void {
  let at = '';
  session.subscribe((one) => {
    const person = one?.person.id ?? '';
    if (person !== at && at !== '') forget();
    at = person;
  });
}

function requireWorkspace(): Workspace {
  if (workspace.value === null) throw lockedError();
  return workspace.value;
}

/** Writes one event of the person who is signed in; see session/write-entry.ts. */
export function write(kind: Kind, subject: string, body: unknown): Promise<Ref> {
  const open = () => {
    const [one, who] = [workspace.peek(), session.peek()];
    return one === null || who === null ? null : { workspace: one, session: who };
  };
  return writeEntry({ engine: browser.engine, open, wrote: browser.askToStay }, kind, subject, body);
}

/**
 * Everything that waits, as a file that only the organisation can open: the
 * last resort where a tablet cannot send. Rejects with StoreError.
 */
export async function exportOutbox(): Promise<OutboxFile> {
  return requireWorkspace().sealOutbox();
}

/** The person has read what other tablets held. */
export async function acknowledgeHoldings(): Promise<void> {
  await requireWorkspace().holdings.keep([]);
}

/** The person has read that records were changed outside the program, or put back as a whole. */
export async function acknowledgeAltered(which: keyof SyncState['altered']): Promise<void> {
  await requireWorkspace().alterations.acknowledge(which);
}

export async function syncNow(): Promise<void> {
  await requireWorkspace().loop.now();
}

/** Fetches what signing in needs before somebody does. */
export function warmUnlock(): void {
  auth.lookForKeys().catch(() => undefined);
  auth.unlocking().catch(() => undefined);
}

/**
 * Signs in with the server when it answers, else unlocks what is on this
 * tablet. `oldPassword` opens rows that were locked before a password change;
 * where it is `forgotten` those rows stay locked and new ones are begun.
 */
export const signIn: Auth['signIn'] = (...ask) => auth.signIn(...ask);
/** Ends the server session where it can and locks this tablet. Rows stay, encrypted. */
export const signOut: Auth['signOut'] = () => auth.signOut();
/** Forgets every open view, in this person's other tabs too; rows stay, encrypted. */
export const lock: Auth['lock'] = () => auth.lock();
export const {
  signInWithPasskey,
  signInWithSingleSignOn,
  resume,
  setPin,
  setIdleMinutes,
  beforeLock,
  closing,
  locked,
  resumable,
  hasPin,
  idleMinutes,
  withdrawn,
} = auth;

/** Who was signed in by the organisation and has not opened this tablet yet, or null. Rejects with StoreError where the server does not say. */
export async function arrival(): Promise<Arrival | null> {
  const lazy = await auth.unlocking();
  // The screen is there before the server knows that its person has left.
  await auth.signedOut();
  return lazy.arrival(lazy.deps);
}

/** Why a new tablet password is too easy to guess, or undefined; rejects where the program does not start. */
export async function tabletPasswordProblem(who: Arrival, password: string): Promise<string | undefined> {
  const lazy = await auth.unlocking();
  return lazy.tooEasy(browser.newEngine(), who, password, location.hostname);
}

/** Leaves the app for the organisation's sign-in. */
export async function goToProvider(start: string): Promise<void> {
  const lazy = await auth.unlocking();
  location.assign(await lazy.startAddress(lazy.deps, start));
}

/** A call for screens that work online only; throws StoreError. */
export async function api<T>(method: string, path: string, body?: unknown): Promise<T> {
  const answer = await browser.http(body === undefined ? { method, path } : { method, path, body });
  if (answer.status === 409) {
    const said = (answer.json as { readonly message?: unknown } | null)?.message;
    throw new StoreError('conflict', typeof said === 'string' ? said : 'Somebody else changed this meanwhile.', {
      status: 409,
      detail: answer.json,
    });
  }
  return answer.json as T;
}

/** Judges one measured value before it is saved. */
export function plausible(question: PlausibleQuestion): Promise<Plausibility> {
  return browser.engine.ask('plausible', question);
}

/** Every number that results depend on. */
export async function thresholds(): Promise<readonly Threshold[]> {
  return (await browser.engine.ask('thresholds', {})).thresholds;
}

/** What each answer of a checklist allows, by item; it is known once a visit by that checklist is open. */
export async function ceilings(checklist: string): Promise<readonly CeilingsOfItem[]> {
  return (await browser.engine.ask('ceilings', { checklist })).items;
}

/** The items of an open visit that were measured elsewhere in it, and what they come to. */
export async function measuredAnswers(visit: string): Promise<readonly MeasuredAnswer[]> {
  return (await browser.engine.ask('measured-answers', { visit })).items;
}

/** What each series of readings that is being taken comes to. */
export async function summariseSeries(series: readonly Series[]): Promise<readonly SeriesSummary[]> {
  return (await browser.engine.ask('summarise-series', { series })).summaries;
}

/** The figures of a drawing of what was measured at one site, beside what the chosen control asks. */
export function roseOf(question: RoseQuestion): Promise<Rose> {
  return browser.engine.ask('rose', question);
}

/** What a run that is being driven counts for. */
export async function runQuantities(run: RunTimed): Promise<readonly Quantity[]> {
  return (await browser.engine.ask('run-quantities', run)).quantities;
}

/** Forces in another unit of force, rounded to what a gauge of it shows. */
export async function convertForces(values: readonly number[], from: string, to: string): Promise<readonly number[]> {
  return (await browser.engine.ask('convert', { values, from, to })).values;
}

/** The plan drawing of a passage. Rejects with BadInputError where a measure is not one of this kind of place. */
export function plan(question: PlanQuestion): Promise<PlanDrawing> {
  return browser.engine.ask('plan', question);
}

/** Which settings to try for an observed problem. */
export function advice(problem: Problem): Promise<Advice> {
  return browser.engine.ask('advice', { problem });
}

/** What changed between visits and when a control may become too heavy. */
export function trend(question: TrendQuestion): Promise<Trend> {
  return browser.engine.ask('trend', question);
}

/**
 * The result of the open visit as a signature names it. Rejects with StoreError
 * while there is none, and where it is not the one that was `shown`.
 */
export function resultToSign(visit: string, shown: Result): Promise<ResultToSign> {
  return requireWorkspace().projections.resultToSign(visit, shown);
}

/** Whether a passkey can be made here, whether one of anybody's opens this tablet, and whether anybody has signed in on it. */
export async function passkeys(): Promise<{ readonly possible: boolean; readonly known: boolean; readonly people: boolean }> {
  const lazy = await auth.unlocking();
  const [possible, all] = [await lazy.canPasskey(), await lazy.deps.keyStore.all()];
  return { possible, known: possible && all.some((row) => (row.passkeys ?? []).length > 0), people: all.length > 0 };
}

/** How many passkeys open this tablet for the person who is signed in. */
export async function ownPasskeys(): Promise<number> {
  const { deps, who } = await auth.keys();
  return (await deps.keyStore.all()).find((row) => row.key === who.keyRowId)?.passkeys?.length ?? 0;
}

/** Makes a passkey for the person who is signed in; the password is asked for once more. */
export async function addPasskey(password: string): Promise<void> {
  const { deps, who, enrolPasskey } = await auth.keys();
  const row = (await deps.keyStore.all()).find((one) => one.key === who.keyRowId);
  if (row !== undefined) await enrolPasskey(deps.keyStore, row, password);
}

export async function removePasskeys(): Promise<void> {
  const { deps, who } = await auth.keys();
  await deps.keyStore.removePasskeys(who.keyRowId);
}

/** What of this person is locked since an earlier sign-in on this tablet, and the ways out for it. */
export async function lockedRows(): Promise<LockedRowsActions> {
  const { deps, who, lockedRowsActions } = await auth.keys();
  return lockedRowsActions(browser.http, deps, {
    keyStore: deps.keyStore,
    notices: browser.world.notices,
    person: who.person,
    keyRowId: who.keyRowId,
  });
}

/** Starts the engine after the first paint, before it is needed. */
export function warmEngine(): void {
  browser.engine.warm();
}

/** The page or the network came back: exchange soon. */
export function wakeSync(): void {
  workspace.value?.loop.wake();
}
