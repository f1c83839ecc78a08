/**
 * Who the colleagues are: names and credentials for the ids in entries, kept
 * encrypted on the tablet so that "answered by" says a name without a network.
 */
import { signal, type ReadonlySignal } from '@preact/signals';
import type { Http } from '../api/http';
import { peopleAnswer, readAnswer } from '../api/schemas';
import type { EncryptedStore } from '../database/encrypted-store';
import * as v from '../schema';

const colleague = v.object({
  id: v.string,
  name: v.string,
  credential: v.string,
  closed: v.boolean,
  teams: v.list(v.object({ id: v.string, role: v.string })),
});

/** Somebody who is or was in one of this person's teams. */
export type Colleague = Readonly<v.Infer<typeof colleague>>;

export interface People {
  readonly colleagues: ReadonlySignal<ReadonlyMap<string, Colleague>>;
  /** Takes in the server's list; who is no longer on it keeps the name that they had. */
  readonly fetch: (http: Http) => Promise<void>;
}

export async function openPeople(store: EncryptedStore): Promise<People> {
  const kept = v.tryParse(v.list(colleague), await store.secret('people'));
  const colleagues = signal<ReadonlyMap<string, Colleague>>(byId(kept ?? []));
  return {
    colleagues,
    fetch: async (http) => {
      const { people } = readAnswer(peopleAnswer, (await http({ method: 'GET', path: '/api/v1/people' })).json);
      const gone = [...colleagues.peek().values()].map((one) => ({ ...one, teams: [] }));
      const all = byId([...gone, ...people]);
      await store.keepSecret('people', [...all.values()]);
      colleagues.value = all;
    },
  };
}

function byId(list: readonly Colleague[]): ReadonlyMap<string, Colleague> {
  return new Map(list.map((one) => [one.id, one]));
}
