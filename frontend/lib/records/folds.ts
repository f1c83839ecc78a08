/**
 * What the tablet's program makes of a subject's entries: a client, a control, or
 * a visit with its result. The program keeps the visits that are open, so that a
 * new entry goes to it alone; what it has not kept, or not like this, it is given
 * anew.
 */
import type { HeldEvents } from '../database/encrypted-store';
import { refOf, type StoredEvent } from '../database/event';
import { EngineEnded, type Engine } from '../engine/engine';
import { BadInputError, StoreError } from '../errors';
import {
  kindTable,
  type Client,
  type Control,
  type Definition,
  type Entry,
  type Kind,
  type Logs,
  type OpenVisit,
  type Subject,
} from '../model.gen';

export type Folded =
  | { readonly type: 'client'; readonly client: Client }
  | { readonly type: 'control'; readonly control: Control }
  | ({ readonly type: 'visit'; readonly definition: Definition | undefined } & OpenVisit);

export interface FoldDeps {
  readonly engine: Engine;
  /** Undefined while the checklist has not been fetched. */
  readonly checklist: (hash: string) => Promise<Definition | undefined>;
}

export interface Folds {
  /** Null when the subject's beginning is not here. One question at a time for each subject. */
  readonly fold: (subject: string, held: Held) => Promise<Folded | null>;
  /** The canonical result of a visit as it was folded last, in the bytes that are hashed. */
  readonly canonical: (visit: string) => Promise<string>;
  /** The program need not keep this visit. */
  readonly forget: (visit: string) => void;
  /** Asks nothing more, so that a program that was ended is not started again. */
  readonly close: () => void;
}

type Held = Pick<HeldEvents, 'events' | 'logs'>;

/** What the program holds of an open visit. */
interface Given {
  readonly checklist: string;
  /** The logs that it was opened with, as JSON. */
  readonly logs: string;
  /** Positions of the entries by their refs. */
  readonly positions: ReadonlyMap<string, number>;
  /** How many entries that is, by the program's own count. */
  readonly count: number;
}

export function createFolds(deps: FoldDeps): Folds {
  let closed = false;
  const engine = (): Engine => {
    if (closed) throw new StoreError('locked', 'This tablet is locked.');
    return deps.engine;
  };
  const ask: Engine['ask'] = async (op, question) => engine().ask(op, question);
  const given = new Map<string, Given>();
  const loaded = new Set<string>();
  /** What the program ended at is asked once more, one at a time: most of it ended at something else. */
  let alone: Promise<unknown> = Promise.resolve();

  /** The checklist, if it is here, after the program has it too. */
  const load = async (hash: string): Promise<Definition | undefined> => {
    const definition = await deps.checklist(hash);
    if (definition === undefined || loaded.has(hash)) return definition;
    // Of one that the program does not take, it says so at each visit.
    await ask('load-checklist', { hash, definition }).catch(unlessEnded);
    loaded.add(hash);
    return definition;
  };

  const open = async (visit: string, checklist: string, entries: readonly StoredEvent[], logs: Logs): Promise<OpenVisit> => {
    const before = given.get(visit);
    given.delete(visit);
    const news = before?.checklist === checklist && before.logs === JSON.stringify(logs) ? newIn(before, entries) : null;
    const whole = { visit, checklist, logs };
    if (before === undefined || news === null) return ask('open-visit', { ...whole, entries: entries.map(entryOf) });
    try {
      return await ask('add-entries', { visit, after: before.count, entries: news.map(entryOf) });
    } catch (error) {
      if (!isNotOpen(error)) throw error;
      return ask('open-visit', { ...whole, entries: entries.map(entryOf) });
    }
  };

  const foldVisit = async (visit: string, entries: readonly StoredEvent[], logs: Logs): Promise<Folded | null> => {
    let checklist = given.get(visit)?.checklist ?? checklistNamed(entries);
    let definition = await load(checklist);
    let answer = await open(visit, checklist, entries, logs);
    const named = answer.visit.checklist.hash;
    if (named !== checklist && named !== '') {
      checklist = named;
      definition = await load(checklist);
      answer = await open(visit, checklist, entries, logs);
    }
    given.set(visit, { checklist, logs: JSON.stringify(logs), count: answer.count, positions: positionsOf(entries) });
    return answer.visit.id === '' ? null : { type: 'visit', definition, ...answer };
  };

  const foldOnce = async (subject: string, { events, logs }: Held): Promise<Folded | null> => {
    const entries = events.filter((one) => !one.aside);
    const type = typeOf(events);
    if (type === 'visit') return foldVisit(subject, entries, logs);
    if (type === 'client') {
      const client = await ask('fold-client', { entries: entries.map(entryOf) });
      return client.id === '' ? null : { type, client };
    }
    if (type !== 'control') return null;
    const control = await ask('fold-control', { entries: entries.map(entryOf) });
    return control === null ? null : { type, control };
  };

  return {
    fold: (subject, held) =>
      foldOnce(subject, held).catch((error: unknown) => {
        if (!(error instanceof EngineEnded)) throw error;
        const again = alone.then(() => foldOnce(subject, held));
        alone = again.catch(() => undefined);
        return again;
      }),
    canonical: async (visit) => engine().askText('canonical', { visit }),
    forget: (visit) => {
      if (given.delete(visit)) ask('close-visit', { visit }).catch(() => undefined);
    },
    close: () => {
      closed = true;
    },
  };
}

function unlessEnded(error: unknown): null {
  if (error instanceof BadInputError) return null;
  throw error;
}

/** The entries that the program lacks; null when it holds others, or some at other places. */
function newIn({ positions }: Given, entries: readonly StoredEvent[]): readonly StoredEvent[] | null {
  const news = entries.filter((one) => !positions.has(refOf(one.event)));
  const same = entries.filter((one) => positions.get(refOf(one.event)) === one.pos);
  return same.length === positions.size && same.length + news.length === entries.length ? news : null;
}

function positionsOf(entries: readonly StoredEvent[]): ReadonlyMap<string, number> {
  return new Map(entries.map((one) => [refOf(one.event), one.pos]));
}

/** The program does not have the visit. */
export function isNotOpen(error: unknown): boolean {
  return error instanceof BadInputError && error.code === 'not-open';
}

function entryOf({ pos, event }: StoredEvent): Entry {
  return { pos, raw: event };
}

/** The checklist that a visit most likely names; the program's answer says which. */
function checklistNamed(entries: readonly StoredEvent[]): string {
  const start = entries.find((one) => one.event.kind === ('visit-started' satisfies Kind));
  const body = start?.event.body as { readonly checklist?: { readonly hash?: unknown } } | null | undefined;
  return typeof body?.checklist?.hash === 'string' ? body.checklist.hash : '';
}

/** Whether this version of the app knows the kind. */
export function isKind(kind: string): kind is Kind {
  return Object.hasOwn(kindTable, kind);
}

/** What entries are about; undefined where a newer version wrote all of them. */
function typeOf(events: readonly StoredEvent[]): Subject | undefined {
  const types = new Set(events.map(({ event }) => (isKind(event.kind) ? kindTable[event.kind].subject : undefined)));
  return (['client', 'control', 'visit'] as const).find((type) => types.has(type));
}
