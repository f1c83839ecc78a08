/** What is kept of a subject beside its events, as it lies in its row. */
import type { Client, Control } from '../model.gen';
import * as v from '../schema';

const briefSchema = v.object({
  id: v.string,
  client: v.string,
  team: v.string,
  startedAt: v.string,
  startedBy: v.string,
  signedAt: v.string,
  answered: v.number,
  needsChoice: v.number,
  checklist: v.string,
  level: v.string,
  interim: v.boolean,
  provisional: v.boolean,
  recheck: v.string,
  place: v.nullish(v.number, 0),
  secondOf: v.nullish(v.string, ''),
});

/** What this tablet's program made: known by its id and its team, the rest is as it was. */
const made = <T extends { readonly id: string; readonly team: string }>() =>
  v.custom<T>((value) => v.tryParse(v.object({ id: v.nonEmpty, team: v.string }), value) !== undefined, 'a subject with a team');

/** Entries that a newer version wrote; a later version folds the subject again. */
const newer = v.optional(v.number);

export const snapshotSchema = v.union('type', {
  client: v.object({ type: v.literal('client'), client: made<Client>(), newer }),
  visit: v.object({ type: v.literal('visit'), brief: briefSchema, newer }),
  control: v.object({ type: v.literal('control'), control: made<Control>(), newer }),
});

export interface VisitBrief {
  readonly id: string;
  readonly client: string;
  readonly team: string;
  readonly startedAt: string;
  /** Person id. */
  readonly startedBy: string;
  readonly signedAt: string;
  /** Items with at least one answer that is not "not tested". */
  readonly answered: number;
  readonly needsChoice: number;
  readonly checklist: string;
  /** Level id of the latest result on this tablet, or empty. */
  readonly level: string;
  readonly interim: boolean;
  readonly provisional: boolean;
  readonly recheck: string;
  /** The visit of the same trial by another therapist that this one is the second rating of, or empty. */
  readonly secondOf: string;
  /** Where its start stands in the server's log, 0 while it waits. */
  readonly place: number;
}
interface Newer {
  readonly newer?: number;
}
export type Snapshot =
  | ({ readonly type: 'client'; readonly client: Client } & Newer)
  | ({ readonly type: 'visit'; readonly brief: VisitBrief } & Newer)
  | ({ readonly type: 'control'; readonly control: Control } & Newer);

export function teamOf(snapshot: Snapshot): string {
  switch (snapshot.type) {
    case 'client':
      return snapshot.client.team;
    case 'visit':
      return snapshot.brief.team;
    case 'control':
      return snapshot.control.team;
  }
}
