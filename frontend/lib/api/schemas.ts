/** What the server may answer, checked before anything is believed. */
import { StoreError } from '../errors';
import { roles, type Result, type Visit } from '../model.gen';
import * as v from '../schema';

const text = v.fallback(v.string, '');
/** Go writes an empty list as null. */
const list = <T>(item: v.Schema<T>) => v.nullish(v.list(item), []);

export const sessionAnswer = v.object({
  person: v.object({ id: v.nonEmpty, name: v.string, credential: text }),
  teams: list(v.object({ id: v.string, name: v.string, role: v.literal(...roles) })),
  admin: v.fallback(v.boolean, false),
  tablet: v.optional(text),
  log: text,
  server_time: text,
  login: text,
  unlock: v.optional(text),
  organisation: v.fallback(v.optional(v.object({ id: v.string, key: v.string })), undefined),
});
export type SessionAnswerIn = v.Infer<typeof sessionAnswer>;

export const tabletMade = v.object({
  id: v.nonEmpty,
  holding: list(v.object({ id: v.string, label: text, waiting: v.count, oldest: text })),
});
export type TabletMadeIn = v.Infer<typeof tabletMade>;

export const pushAnswer = v.object({
  log: v.string,
  ack: v.count,
  verdicts: list(
    v.object({
      n: v.count,
      verdict: v.string,
      pos: v.nullish(v.count, null),
      code: v.optional(text),
      hint: v.optional(text),
      field: v.optional(text),
    }),
  ),
  server_time: text,
});
export type PushAnswerIn = v.Infer<typeof pushAnswer>;

export const conflictAnswer = v.object({ error: v.string, ack: v.optional(v.count), log: v.optional(v.string) });

export const pullAnswer = v.object({
  log: v.string,
  events: list(v.object({ pos: v.int(1), received: v.optional(text), raw: v.unknown })),
  next: v.count,
  more: v.boolean,
  server_time: text,
});
export type PullAnswerIn = v.Infer<typeof pullAnswer>;

export const checklistList = v.object({
  checklists: list(v.object({ id: v.string, version: v.string, hash: v.string, title: text, current: v.fallback(v.boolean, false) })),
});

/** Only the server and this tablet's program make results; what says that it is one is looked at. */
export const result = v.custom<Result>(
  (value) => v.tryParse(v.object({ format: v.nonEmpty, level: v.string, message: v.object({ code: v.string }) }), value) !== undefined,
  'a result',
);

const visit = v.custom<Visit>((value) => v.tryParse(v.object({ id: v.nonEmpty }), value) !== undefined, 'a visit');

/** A result that this version cannot read is none: the tablet's own stays provisional. */
export const visitAnswer = v.object({
  visit,
  scored: v.fallback(v.nullish(v.object({ sha256: v.nonEmpty, result }), null), null),
});

export const clientAnswer = v.object({ visits: list(visitAnswer) });

/** Only what a tablet needs of a person: no login, no admin rights. */
export const peopleAnswer = v.object({
  people: list(
    v.object({
      id: v.string,
      name: text,
      credential: text,
      closed: v.fallback(v.boolean, false),
      teams: list(v.object({ id: v.string, role: text })),
    }),
  ),
});

export const asideAnswer = v.object({
  entries: list(v.object({ tablet: v.string, n: v.count, settled: text, settled_by: text, note: text })),
});

/** Checks an answer; one that is not ours throws StoreError `server`. */
export function readAnswer<T>(shape: v.Schema<T>, json: unknown): T {
  try {
    return shape(json);
  } catch (error) {
    throw new StoreError('server', 'The server gave an answer that this version of the app does not understand.', {
      detail: String(error),
    });
  }
}
