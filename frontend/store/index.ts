/**
 * The tablet's store: everything a screen may know and do. Signals are read,
 * functions write. Nothing here shows anything.
 */
import { signal, type Signal } from '@preact/signals';
import type { Ref } from '../model.gen';
import { StoreError } from './errors';
import type { ClientCard, ClientView, Plausibility, Session, SyncState, VisitView } from './types';

export { StoreError } from './errors';
export type { StoreErrorCode } from './errors';
export type * from './types';
export type * from './definition';

export const session: Signal<Session | null> = signal(null);
export const clients: Signal<readonly ClientCard[]> = signal([]);
export const syncState: Signal<SyncState> = signal({
  online: false, running: false, lastSent: '', waiting: 0, oldestWaiting: '', refused: [], needsChoice: 0, clockAhead: 0, error: null,
});

const notYet = (): never => { throw new StoreError('locked', 'Nobody is signed in.'); };

/** A live view of one client; null while it loads or when it is not here. */
export function openClient(_id: string): Signal<ClientView | null> { return notYet(); }

/** A live view of one visit with its result; null while it loads. */
export function openVisit(_id: string): Signal<VisitView | null> { return notYet(); }

/**
 * Writes one event. Resolves with its name when the strict transaction is
 * complete, so "saved" may be shown; rejects with StoreError otherwise.
 */
export function write(_kind: string, _subject: string, _body: unknown): Promise<Ref> { return notYet(); }

/** A new id for a client or a visit: 128 random bits. */
export function newId(): string { return notYet(); }

export function syncNow(): Promise<void> { return notYet(); }

/**
 * Signs in with the server when it answers, else unlocks what is on this
 * tablet. `oldPassword` opens rows that were locked before a password change.
 */
export function signIn(_name: string, _password: string, _oldPassword?: string): Promise<void> { return notYet(); }

/** Ends the server session where it can and locks this tablet. */
export function signOut(): Promise<void> { return notYet(); }

/** Forgets the key and every open view; rows stay, encrypted. */
export function lock(): void { notYet(); }

/** A call for screens that work online only; throws StoreError. */
export function api<T>(_method: string, _path: string, _body?: unknown): Promise<T> { return notYet(); }

/** Judges one measured value before it is saved. */
export function plausible(_what: string, _site: string, _value: number, _unit: string): Promise<Plausibility> { return notYet(); }

/** Checklists on this tablet, the current ones first. */
export interface ChecklistCard {
  readonly id: string;
  readonly version: string;
  readonly hash: string;
  readonly title: string;
  readonly current: boolean;
}
export const checklists: Signal<readonly ChecklistCard[]> = signal([]);

/** The engine's table of limits, tab-separated lines. */
export function thresholds(): Promise<string> { return notYet(); }
