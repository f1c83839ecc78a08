/**
 * From events to clients, visits and controls, the same as the server does it
 * (internal/record): entries in log order, then those that wait by number;
 * an entry that is there twice counts once. Shared vectors hold both to it.
 */
import type { Client, Control, ControlListed, Entry, Event, Stamp, Visit } from '../model.gen';
import { readBody, type Body } from './body';
import { placed, refOf, SCHEMA_NOW, type LoggedEvent } from './event';
import { createVisitFold } from './fold-visit';

/** Called with null for a body that this version cannot read. */
export type Add = (stamp: Stamp, event: Event, body: Body | null) => void;

function compare(a: LoggedEvent, b: LoggedEvent): number {
  if ((a.pos === 0) !== (b.pos === 0)) return a.pos === 0 ? 1 : -1;
  if (a.pos !== b.pos) return a.pos - b.pos;
  if (a.event.n !== b.event.n) return a.event.n - b.event.n;
  return a.event.tablet < b.event.tablet ? -1 : a.event.tablet > b.event.tablet ? 1 : 0;
}

/** Hands every event once and in order to `add`. */
export function eachInOrder(list: readonly LoggedEvent[], add: Add): void {
  const seen = new Set<string>();
  for (const { pos, event } of [...list].sort(compare)) {
    const ref = refOf(event);
    if (seen.has(ref)) continue;
    seen.add(ref);
    const body = event.schema > SCHEMA_NOW ? null : readBody(event.kind, event.body);
    add({ ref, by: event.author, at: event.at, pos }, event, body);
  }
}

export function foldVisit(list: readonly LoggedEvent[]): Visit {
  const fold = createVisitFold();
  eachInOrder(list, fold.add);
  return fold.visit();
}

export function foldVisitEntries(entries: readonly Entry[]): Visit {
  return foldVisit(entries.map(placed));
}

export function foldClientEntries(entries: readonly Entry[]): Client {
  return foldClient(entries.map(placed));
}

export function foldControlEntries(entries: readonly Entry[]): Control | null {
  return foldControl(entries.map(placed));
}

/** What the team knows of a control: the last listing counts. Null when there is none. */
export function foldControl(list: readonly LoggedEvent[]): Control | null {
  let control: Control | null = null;
  eachInOrder(list, (stamp, event, body) => {
    if (event.kind !== 'control-listed' || body === null) return;
    control = { id: event.subject, ...stamp, ...(body as unknown as ControlListed) };
  });
  return control;
}

type Editable<T> = { -readonly [K in keyof T]: T[K] };

const noStamp: Stamp = { ref: '', by: '', at: '', pos: 0 };
const changeable = ['ref', 'name', 'born', 'referred', 'priority', 'course', 'reason', 'visiting'] as const;

export function foldClient(list: readonly LoggedEvent[]): Client {
  const client: Editable<Client> = {
    id: '',
    team: '',
    ref: '',
    name: '',
    born: '',
    referred: '',
    priority: '',
    course: '',
    reason: '',
    visiting: '',
    assignee: '',
    status: '',
    version: 0,
    opened: noStamp,
    changed: noStamp,
  };
  eachInOrder(list, (stamp, event, body) => {
    if (body !== null && applyToClient(client, stamp, event, body)) client.changed = stamp;
  });
  return client;
}

function applyToClient(client: Editable<Client>, stamp: Stamp, event: Event, body: Body): boolean {
  switch (event.kind) {
    case 'client-opened':
      if (client.id !== '') return false;
      Object.assign(client, body, { id: event.subject, status: 'waiting', opened: stamp });
      return true;
    case 'client-changed':
      for (const key of changeable) {
        const value = (body['fields'] as Readonly<Record<string, unknown>>)[key];
        if (typeof value === 'string') client[key] = value;
      }
      return true;
    case 'client-assigned':
      client.assignee = body['assignee'] as string;
      client.status = body['status'] as string;
      client.version = body['version'] as number;
      return true;
    default:
      return false;
  }
}
