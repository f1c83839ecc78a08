import type { Entry, Event, Ref } from '../model.gen';
import * as v from '../schema';

const eventSchema = v.object({
  tablet: v.nonEmpty,
  n: v.int(1),
  kind: v.string,
  subject: v.nonEmpty,
  author: v.string,
  at: v.string,
  zone: v.string,
  schema: v.count,
  seen: v.count,
  body: v.unknown,
});

/** Schema number of the events that this app writes and the newest it reads. */
export const SCHEMA_NOW = 1;

/** Reads an event's own fields; throws when it is not an event. */
export function readEvent(raw: unknown): Event {
  return eventSchema(raw);
}

export function refOf(event: Pick<Event, 'tablet' | 'n'>): Ref {
  return `${event.tablet}:${event.n}`;
}

export function tabletOf(ref: Ref): string {
  return ref.slice(0, ref.lastIndexOf(':'));
}

/** An event in its place: its position in the server's log, or 0 while it waits. */
export interface LoggedEvent {
  readonly pos: number;
  readonly event: Event;
}

/** An event on this tablet. */
export interface StoredEvent extends LoggedEvent {
  /** The server put it aside; it is kept and shown, and changes nothing. */
  readonly aside: boolean;
}

export function placed(entry: Entry): LoggedEvent {
  return { pos: entry.pos, event: readEvent(entry.raw) };
}
