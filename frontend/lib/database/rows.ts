/**
 * The tablet's databases. "doorsill" knows who may unlock what; each person's
 * own rows lie in a database of their own. In clear: ids, numbers and flags.
 * In boxes (encrypted): everything that was said, names, results.
 */
import type { DBSchema } from 'idb';
import { deriveParams } from '../crypto/derive';
import { failedAttempts } from '../crypto/rate-limit';
import * as v from '../schema';
import type { DatabasePlan } from './database';

const box = v.bytes;

/**
 * Added to the key of an event that another device wrote under this tablet's
 * name and number: it lies beside the own one, which does not count.
 */
export const FORKED = '~log';

/** One event, own or pulled. */
export const eventRow = v.object({
  /** The event's ref; see also FORKED. */
  key: v.string,
  subject: v.string,
  /** Position in the server's log, 0 while it has none. */
  pos: v.count,
  /** Own events only: the event's number. */
  own: v.optional(v.count),
  /** Set when the server put an own event aside. */
  aside: v.optional(v.literal(1)),
  /** The team whose log it was pulled from. */
  team: v.optional(v.string),
  /** The event's exact bytes. */
  box,
});
export type EventRow = v.Infer<typeof eventRow>;

/** What is shown of a client or a visit without reading its events. */
export const subjectRow = v.object({
  key: v.string,
  /** 1 when events came in that the box does not know yet. */
  stale: v.optional(v.literal(1)),
  /** Another one each time that events came in: who folds can tell whether more came since. */
  mark: v.optional(v.string),
  box: v.optional(box),
});
export type SubjectRow = v.Infer<typeof subjectRow>;

/** The server's results by visit, and checklists by hash. */
export const boxRow = v.object({ key: v.string, box });
type BoxRow = v.Infer<typeof boxRow>;

const CURSOR = 'cursor:';

/** The key of how far a team's log has been taken in. */
export function cursorKey(team: string): string {
  return CURSOR + team;
}

/** The team of such a key; undefined where it is another one. */
export function cursorTeam(key: string): string | undefined {
  return key.startsWith(CURSOR) ? key.slice(CURSOR.length) : undefined;
}

/** Of which rows all others are: see row-root.ts. */
export const ROOT = 'root';

/** What the server has of rows that are locked away: noted without their key, so the root does not cover it. */
export const LOCKED_ACK = 'locked-ack';

/** Since when it is known that rows were changed outside the program, or put back to an older state as a whole; gone once the person has read it. */
export const ALTERED = { rows: 'altered', whole: 'set-back' } as const;

/** Counters (n, ack, cursor:team, and what forgetting keeps: see receipts.ts), the log id and the logs before it, the root of all rows, and what is sealed: profile, names, choices, the organisation's public key. */
export const metaRow = v.object({
  key: v.string,
  number: v.optional(v.count),
  /** Cursors only: entries taken in up to there. */
  count: v.optional(v.count),
  /** Cursors only: 1 once the log's end was reached. */
  done: v.optional(v.literal(1)),
  /** Cursors only: 1 while the log is taken in anew after it became another one. */
  old: v.optional(v.literal(1)),
  text: v.optional(v.string),
  box: v.optional(box),
});
export type MetaRow = v.Infer<typeof metaRow>;

/** Signed entries sealed to the organisation's key: what a forgotten password cannot take. */
export const sealedRow = v.object({
  key: v.string,
  tablet: v.string,
  /** Numbers of the first and the last entry. */
  from: v.count,
  to: v.count,
  /** The envelope as it is sent. */
  envelope: v.string,
});
export type SealedRow = v.Infer<typeof sealedRow>;

/** All stores of a person's rows. */
export const personStores = ['events', 'subjects', 'results', 'checklists', 'meta', 'drafts', 'sealed'] as const;
export type StoreName = (typeof personStores)[number];

export interface PersonSchema extends DBSchema {
  events: { key: string; value: EventRow; indexes: { subject: string; own: number } };
  subjects: { key: string; value: SubjectRow; indexes: { stale: number } };
  results: { key: string; value: BoxRow };
  checklists: { key: string; value: BoxRow };
  meta: { key: string; value: MetaRow };
  /** By what they are drafts of, such as a visit. */
  drafts: { key: string; value: BoxRow };
  sealed: { key: string; value: SealedRow };
}

/** A person's database; `nth` tells those apart whose password was forgotten. */
export function personPlan(person: string, nth = 0): DatabasePlan<PersonSchema> {
  return {
    name: nth === 0 ? `doorsill-${person}` : `doorsill-${person}-${nth}`,
    // 4 has the stores of 3: a version that knows no root must not write to what has one.
    version: 4,
    upgrade: (db, from) => {
      if (from < 3) db.createObjectStore('sealed', { keyPath: 'key' });
      if (from < 2) db.createObjectStore('drafts', { keyPath: 'key' });
      if (from >= 1) return;
      const events = db.createObjectStore('events', { keyPath: 'key' });
      events.createIndex('subject', 'subject');
      events.createIndex('own', 'own', { unique: true });
      db.createObjectStore('subjects', { keyPath: 'key' }).createIndex('stale', 'stale');
      db.createObjectStore('results', { keyPath: 'key' });
      db.createObjectStore('checklists', { keyPath: 'key' });
      db.createObjectStore('meta', { keyPath: 'key' });
    },
  };
}

/** Who may unlock this tablet: found by a salted hash of the login name; see session/login-key.ts. */
export const keyRowSchema = v.object({
  key: v.string,
  person: v.string,
  tablet: v.string,
  /** How the wrapping key comes from the password. */
  params: deriveParams,
  /** The root key under the password. */
  wrapped: box,
  /** Data keys under the root key, the one in use first; see crypto/key-ring.ts. */
  data: v.optional(v.list(box)),
  /** Counts changes of the keys. */
  turn: v.optional(v.count),
  /** Which of the person's databases: left out for the first. */
  rows: v.optional(v.count),
  /** 1 where the password is this tablet's own and the server does not know it. */
  local: v.optional(v.count),
  passkeys: v.optional(v.list(v.object({ id: box, salt: box, wrapped: box }))),
  /** Wrong passwords in a row. */
  tries: v.optional(failedAttempts),
});
export type KeyRow = v.Infer<typeof keyRowSchema>;

/** What names are hashed with on this device. */
export const saltRow = v.object({ key: v.string, salt: box });

export interface KeySchema extends DBSchema {
  keepers: { key: string; value: KeyRow; indexes: { person: string } };
  salts: { key: string; value: v.Infer<typeof saltRow> };
}

export const keyDatabasePlan: DatabasePlan<KeySchema> = {
  name: 'doorsill',
  version: 2,
  upgrade: (db, from) => {
    if (from < 2) db.createObjectStore('salts', { keyPath: 'key' });
    if (from < 1) db.createObjectStore('keepers', { keyPath: 'key' }).createIndex('person', 'person');
  },
};
