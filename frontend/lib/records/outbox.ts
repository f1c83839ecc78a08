/**
 * The only way into a tablet's own log. Each event gets the next number under a
 * lock, is turned into bytes once, sealed, and written in one strict transaction
 * together with the counter and the mark that the subject is to be folded. Those
 * bytes are what the server hashes; they are never made again.
 */
import { toBytes } from '../bytes';
import type { EncryptedStore } from '../database/encrypted-store';
import { refOf, SCHEMA_NOW, type StoredEvent } from '../database/event';
import type { Locks } from '../database/locks';
import { markStale, type Marks } from '../database/stale';
import { StoreError } from '../errors';
import type { Event, Ref } from '../model.gen';

interface Draft {
  readonly kind: string;
  readonly subject: string;
  readonly body: unknown;
  readonly seen: Seen;
}

/** How far the person had seen the log of a subject's team, and which log that is. */
export interface Seen {
  /** Empty before the first exchange. */
  readonly log: string;
  /** The last position of the team that this tablet had taken in, and showed. */
  readonly pos: number;
}

interface OutboxDeps {
  readonly store: EncryptedStore;
  readonly locks: Locks;
  readonly now: () => Date;
  readonly zone: () => string;
  readonly person: string;
  readonly tablet: string;
}

export interface Written {
  readonly ref: Ref;
  readonly held: StoredEvent;
  /** Of the subject's row; see stale.ts. */
  readonly marks: Marks;
}

export interface Outbox {
  /** Resolves when the event is on disk, and its subject marked to be folded. */
  readonly append: (draft: Draft) => Promise<Written>;
  /** Runs work while nobody writes to this person's rows, in any tab. */
  readonly exclusive: <T>(work: () => Promise<T>) => Promise<T>;
}

/** Ends a transaction whose number another tab has used. */
class NumberTaken extends Error {}

export function createOutbox(deps: OutboxDeps): Outbox {
  const { store } = deps;
  const exclusive = <T>(work: () => Promise<T>): Promise<T> => deps.locks.alone(`doorsill-write-${deps.person}`, work);

  /** The last number that was written, as far as this tab knows. */
  let last: number | null = null;

  /** Writes under number n; null when another tab has used it. */
  const tryAppend = async (n: number, draft: Draft): Promise<Written | null> => {
    const event: Event = {
      tablet: deps.tablet,
      n,
      kind: draft.kind,
      subject: draft.subject,
      author: deps.person,
      at: deps.now().toISOString(),
      zone: deps.zone(),
      schema: SCHEMA_NOW,
      seen: draft.seen.pos,
      ...(draft.seen.log === '' ? {} : { log: draft.seen.log }),
      body: draft.body,
    };
    const ref = refOf(event);
    const text = JSON.stringify(event);
    // What is shown is what was written, not what the caller may still change.
    const held: StoredEvent = { pos: 0, event: JSON.parse(text) as Event, aside: false };
    const box = await store.sealEvent(ref, toBytes(text));
    // All at once: waiting for the number first would cost a way to the disk and back.
    const written = store.db.write(['events', 'subjects', 'meta'], (tx) => {
      const meta = tx.objectStore('meta');
      return together(
        () => markStale(tx.objectStore('subjects'), draft.subject),
        async () => {
          if (((await meta.get('n'))?.number ?? 0) !== n - 1) throw new NumberTaken();
        },
        () => tx.objectStore('events').add({ key: ref, subject: draft.subject, pos: 0, own: n, box }),
        () => meta.put({ key: 'n', number: n }),
      );
    });
    return written.then(
      (marks) => ({ ref, held, marks }),
      (error: unknown) => {
        if (error instanceof StoreError && error.info.cause instanceof NumberTaken) return null;
        throw error;
      },
    );
  };

  const append = async (draft: Draft): Promise<Written> => {
    const known = last;
    last = null;
    const n = (known ?? (await store.number('n'))) + 1;
    let written = await tryAppend(n, draft);
    // Another tab has written since: the lock is ours now, so its number stands.
    written ??= await tryAppend((await store.number('n')) + 1, draft);
    if (written === null) throw new StoreError('unknown', 'Two tabs wrote at the same moment. Nothing was lost; try again.');
    last = written.held.event.n;
    return written;
  };

  return { append, exclusive };
}

/** Starts all requests at once; one that cannot even start fails like the others. Gives what the first one gave. */
async function together<T>(first: () => Promise<T>, ...others: readonly (() => unknown)[]): Promise<T> {
  const [one] = await Promise.all([(async () => first())(), ...others.map(async (start) => start())]);
  return one;
}
