import type { Event, Ref } from '../model.gen';
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
  log: v.optional(v.string),
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

/** An event on this tablet. */
export interface StoredEvent {
  /** Its position in the server's log, or 0 while it waits. */
  readonly pos: number;
  readonly event: Event;
  /** The server put it aside; it is kept and shown, and changes nothing. */
  readonly aside: boolean;
}
