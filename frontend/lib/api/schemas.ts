/**
 * What the server may answer, checked before anything is believed. Each schema
 * names the Go type that it is of: a field with another name or type than there
 * does not compile.
 */
import { StoreError } from '../errors';
import {
  resultFormat,
  roles,
  type ChecklistItem,
  type ChecklistList,
  type ClientAnswer,
  type EarlierLog,
  type Entry,
  type GapAnswer,
  type Membership,
  type Message,
  type OrganisationKey,
  type OtherLogAnswer,
  type PeopleList,
  type PersonBrief,
  type PersonRow,
  type PullAnswer,
  type PushAnswer,
  type QuarantineList,
  type QuarantineRow,
  type Result,
  type ScoredResult,
  type SessionAnswer,
  type TabletHolding,
  type TabletMade,
  type Visit,
  type Verdict,
  type VisitAnswer,
} from '../model.gen';
import * as v from '../schema';

type Fields = Readonly<Record<string, v.Schema<unknown>>>;
/** What a schema may make of a field: some of it, in its own types. */
type Some<T> = T extends readonly (infer Item)[]
  ? readonly Some<Item>[]
  : T extends object
    ? { readonly [K in keyof T]?: Some<T[K]> | null | undefined }
    : T;
/** Fields that T has, each of its type. */
type FieldsOf<T, F> = { readonly [K in keyof F]: K extends keyof T ? v.Schema<Some<T[K]> | null | undefined> : never };

const of =
  <T>() =>
  <F extends Fields & FieldsOf<T, F>>(fields: F) =>
    v.object(fields);

const text = v.fallback(v.string, '');
/** Go writes an empty list as null. */
const list = <T>(item: v.Schema<T>) => v.nullish(v.list(item), []);

export const sessionAnswer = of<SessionAnswer>()({
  person: of<PersonBrief>()({ id: v.nonEmpty, name: v.string, credential: text }),
  teams: list(of<Membership>()({ id: v.string, name: v.string, role: v.literal(...roles) })),
  admin: v.fallback(v.boolean, false),
  tablet: v.optional(text),
  log: text,
  server_time: text,
  login: text,
  unlock: v.optional(text),
  organisation: v.fallback(v.optional(of<OrganisationKey>()({ id: v.string, key: v.string })), undefined),
});
export type SessionAnswerIn = v.Infer<typeof sessionAnswer>;

export const tabletMade = of<TabletMade>()({
  id: v.nonEmpty,
  holding: list(of<TabletHolding>()({ id: v.string, label: text, waiting: v.count, oldest: text })),
});
export type TabletMadeIn = v.Infer<typeof tabletMade>;

export const pushAnswer = of<PushAnswer>()({
  log: v.string,
  ack: v.count,
  verdicts: list(
    of<Verdict>()({
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

export const conflictAnswer = of<GapAnswer & OtherLogAnswer>()({ error: v.string, ack: v.optional(v.count), log: v.optional(v.string) });

export const pullAnswer = of<PullAnswer>()({
  log: v.string,
  earlier: v.optional(list(of<EarlierLog>()({ log: v.string, until: v.count }))),
  events: list(of<Entry>()({ pos: v.int(1), received: v.optional(text), raw: v.unknown })),
  next: v.count,
  more: v.boolean,
  server_time: text,
});
export type PullAnswerIn = v.Infer<typeof pullAnswer>;

export const checklistList = of<ChecklistList>()({
  checklists: list(
    of<ChecklistItem>()({ id: v.string, version: v.string, hash: v.string, title: text, current: v.fallback(v.boolean, false) }),
  ),
});

/** Only the server and this tablet's program make results; what says that it is one is looked at. */
export const result = v.custom<Result>(
  (value) =>
    v.tryParse(of<Result>()({ format: v.literal(resultFormat), level: v.string, message: of<Message>()({ code: v.string }) }), value) !==
    undefined,
  'a result',
);

const visit = v.custom<Visit>((value) => v.tryParse(of<Visit>()({ id: v.nonEmpty }), value) !== undefined, 'a visit');

/** A result that this version cannot read is none: the tablet's own stays provisional. */
const visitAnswer = of<VisitAnswer>()({
  visit,
  scored: v.fallback(v.nullish(of<ScoredResult>()({ sha256: v.nonEmpty, result }), null), null),
});

export const clientAnswer = of<ClientAnswer>()({ visits: list(visitAnswer) });

/** Only what a tablet needs of a person: no login, no admin rights. */
export const peopleAnswer = of<PeopleList>()({
  people: list(
    of<PersonRow>()({
      id: v.string,
      name: text,
      credential: text,
      closed: v.fallback(v.boolean, false),
      teams: list(of<Membership>()({ id: v.string, role: text })),
    }),
  ),
});

export const asideAnswer = of<QuarantineList>()({
  entries: list(
    of<QuarantineRow>()({
      tablet: v.string,
      n: v.count,
      settled: text,
      settled_by: text,
      note: text,
      placed: text,
      confirmed: v.fallback(v.boolean, false),
    }),
  ),
  next: text,
  more: v.fallback(v.boolean, false),
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
