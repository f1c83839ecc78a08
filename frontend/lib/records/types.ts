import type { VisitBrief } from '../database/snapshot';
import type { Client, Definition, Level, PersonBrief, Ref, Result, Role, TabletHolding, Visit } from '../model.gen';

/** A checklist as its author wrote it: see internal/checklist. */
export type { Ask, Band, Condition, Definition, Effect, Item, Level, Section } from '../model.gen';

/** One of the levels 4 to 0 that all help items share; it has a name. */
export type HelpLevel = Level;

export type { Role } from '../model.gen';

export interface Membership {
  readonly id: string;
  readonly name: string;
  readonly role: Role;
}

/** Somebody who unlocked this tablet, with or without a network. */
export interface Session {
  /** With the name and credential as the person wants it on paper. */
  readonly person: PersonBrief;
  readonly teams: readonly Membership[];
  readonly admin: boolean;
  /** Id of the event stream: this person on this tablet. */
  readonly tablet: string;
  /** True when the server accepted this sign-in, false after an offline one. */
  readonly online: boolean;
}

/**
 * Where a record stands:
 * - `here`: at least one entry is on this tablet only
 * - `waiting`: it is being sent now
 * - `sent`: the server has all of it
 * - `choice`: two people answered apart and somebody must choose
 */
export type VisitSync = 'here' | 'waiting' | 'sent' | 'choice';

export interface VisitCard extends Omit<VisitBrief, 'place'> {
  readonly sync: VisitSync;
  /** Hidden from this person, who rates the same trial, until both visits are signed: level and counts are left out. */
  readonly blind: boolean;
}

export interface ClientCard {
  readonly id: string;
  readonly name: string;
  readonly ref: string;
  readonly team: string;
  readonly priority: string;
  readonly course: string;
  readonly referred: string;
  readonly status: string;
  readonly assignee: string;
  /** Newest first. */
  readonly visits: readonly VisitCard[];
  readonly sync: VisitSync;
}

export interface ClientView {
  readonly client: Client;
  /** Newest first. */
  readonly visits: readonly VisitCard[];
  readonly sync: VisitSync;
}

export interface VisitView {
  readonly visit: Visit;
  readonly checklist: Definition;
  /** Null until the engine answered for the first time. */
  readonly result: Result | null;
  /** False once the server's result for this very state has arrived. */
  readonly provisional: boolean;
  /** The server computed something else for the same state; its result is shown. */
  readonly differs: boolean;
  /** Why no result could be computed on this tablet, or empty. */
  readonly engineError: string;
  readonly sync: VisitSync;
  /** Hidden from this person, who rates the same trial, until both visits are signed: nothing that was said is in it. */
  readonly blind: boolean;
}

/** An entry that the server has set aside, with its reason. */
export interface Refused {
  readonly ref: Ref;
  readonly kind: string;
  readonly subject: string;
  /** The item of the checklist that it is about, if it is about one. */
  readonly item?: string;
  readonly at: string;
  readonly code: string;
  readonly hint: string;
  readonly field: string;
  /** Set once somebody has dealt with it: when, who, and what was done. */
  readonly settled?: { readonly at: string; readonly by: string; readonly note: string };
}

export interface SyncProblem {
  /** `sign-in`, `portal`, `tablet`, `server`, `server-full`, `quarantine-full`, `damaged`, or the code of the error that was thrown. */
  readonly code: string;
  /** A plain sentence for the person. */
  readonly message: string;
}

export interface SyncState {
  /** False until the first exchange of this session got an answer or none. */
  readonly asked: boolean;
  /** A hint only: the last attempt reached the server. */
  readonly online: boolean;
  readonly running: boolean;
  /** Time of the last complete exchange, RFC 3339, or empty. */
  readonly lastSent: string;
  /** Entries on this tablet that the server has not acknowledged. */
  readonly waiting: number;
  /** Tablet time of the oldest of them, or empty. */
  readonly oldestWaiting: string;
  /** Entries set aside that nobody has dealt with. */
  readonly refused: readonly Refused[];
  /** Entries set aside that somebody has dealt with, the latest first. */
  readonly dealtWith: readonly Refused[];
  /** Visits with at least one item that needs a choice. */
  readonly needsChoice: number;
  /** Entries here that a newer version of the app wrote and this one cannot read; they are kept. */
  readonly newer: number;
  /** What other tablets of this person held when this one was set up, until the person has read it. */
  readonly holdings: readonly TabletHolding[];
  /** Since when it is known that the records here were changed outside the program, or put back as a whole; empty unless they were. */
  readonly altered: { readonly rows: string; readonly whole: string };
  /** Seconds that this tablet's clock is ahead of the server's, as last seen. */
  readonly clockAhead: number;
  readonly error: SyncProblem | null;
}

/** A team's clients on this device. */
export interface TeamDownload {
  /** Taken in and kept up to date; stopped for now; not here. */
  readonly choice: 'on' | 'paused' | 'off';
  /** All that the team had has been here at least once. */
  readonly complete: boolean;
  /** Entries taken in so far. */
  readonly entries: number;
}

/** A checklist on this tablet. */
export interface ChecklistCard {
  readonly id: string;
  readonly version: string;
  readonly hash: string;
  readonly title: string;
  /** New visits use it. */
  readonly current: boolean;
}
