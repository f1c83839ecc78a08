/** What the server may answer, checked before anything is believed. */
import * as v from 'valibot';
import { StoreError } from './errors';
import { count, named, whole } from './shape';

const text = v.fallback(v.string(), '');
/** Go writes an empty list as null. */
const list = <T extends v.GenericSchema>(item: T) => v.nullish(v.array(item), []);

export const sessionAnswer = v.object({
  person: v.object({ id: named, name: v.string(), credential: text }),
  teams: list(v.object({ id: v.string(), name: v.string(), role: v.picklist(['assistant', 'clinician', 'lead']) })),
  admin: v.fallback(v.boolean(), false),
  tablet: v.optional(text),
  log: text,
  organisation: v.fallback(v.optional(v.object({ id: v.string(), key: v.string() })), undefined),
});
export type SessionAnswerIn = v.InferOutput<typeof sessionAnswer>;

export const tabletMade = v.object({
  id: named,
  holding: list(v.object({ id: v.string(), label: text, waiting: count, oldest: text })),
});
export type TabletMadeIn = v.InferOutput<typeof tabletMade>;

export const pushAnswer = v.object({
  log: v.string(),
  ack: count,
  verdicts: list(v.object({
    n: count,
    verdict: v.string(),
    pos: v.nullish(count),
    code: v.optional(text),
    hint: v.optional(text),
    field: v.optional(text),
  })),
  server_time: text,
});
export type PushAnswerIn = v.InferOutput<typeof pushAnswer>;

export const conflictAnswer = v.object({ error: v.string(), ack: v.optional(count), log: v.optional(v.string()) });

export const pullAnswer = v.object({
  log: v.string(),
  events: list(v.object({ pos: whole(1), received: v.optional(text), raw: v.unknown() })),
  next: count,
  more: v.boolean(),
  server_time: text,
});
export type PullAnswerIn = v.InferOutput<typeof pullAnswer>;

export const checklistList = v.object({
  checklists: list(v.object({ id: v.string(), version: v.string(), hash: v.string(), title: text, current: v.fallback(v.boolean(), false) })),
});

export const visitAnswer = v.object({
  visit: v.looseObject({ id: v.string() }),
  result: v.nullish(v.object({ text: v.string(), sha256: v.string() })),
});

export const clientAnswer = v.object({ visits: list(visitAnswer) });

/** Only what a tablet needs of a person: no login, no admin rights. */
export const peopleAnswer = v.object({
  people: list(v.object({
    id: v.string(), name: text, credential: text, closed: v.fallback(v.boolean(), false),
    teams: list(v.object({ id: v.string(), role: text })),
  })),
});

export const asideAnswer = v.object({
  entries: list(v.object({ tablet: v.string(), n: count, settled: text, settled_by: text, note: text })),
});

/** Checks an answer; one that is not ours throws StoreError `server`. */
export function readAnswer<T extends v.GenericSchema>(schema: T, json: unknown): v.InferOutput<T> {
  const parsed = v.safeParse(schema, json);
  if (parsed.success) return parsed.output;
  throw new StoreError('server', 'The server gave an answer that this version of the app does not understand.', { detail: parsed.issues[0]?.message });
}
