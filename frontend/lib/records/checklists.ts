/** Checklists on this tablet: fetched once, kept for as long as a visit is pinned to them. */
import { signal, type ReadonlySignal } from '@preact/signals';
import type { Http } from '../api/http';
import { checklistList, readAnswer } from '../api/schemas';
import type { EncryptedStore } from '../database/encrypted-store';
import type { Definition } from '../model.gen';
import * as v from '../schema';
import type { ChecklistCard } from './types';

const card = v.object({ id: v.string, version: v.string, hash: v.string, title: v.string, current: v.boolean });

/** The program reads all of it; what lists and screens begin with is looked at. */
const definition = v.custom<Definition>(
  (value) => v.tryParse(v.object({ id: v.nonEmpty, version: v.string, title: v.string, sections: v.list(v.unknown) }), value) !== undefined,
  'a checklist',
);
const keptChecklist = v.object({ definition, hash: v.nonEmpty });

export interface Checklists {
  readonly cards: ReadonlySignal<readonly ChecklistCard[]>;
  readonly find: (hash: string) => Promise<Definition | undefined>;
  /** Fetches the list and what is missing of it; true when something came in. */
  readonly fetch: (http: Http, inUse: ReadonlySet<string>) => Promise<boolean>;
}

const LIST = 'list';

export async function openChecklists(store: EncryptedStore): Promise<Checklists> {
  const cards = signal<readonly ChecklistCard[]>([]);
  const found = new Map<string, Definition>();
  cards.value = v.tryParse(v.list(card), await store.value('checklists', LIST)) ?? [];

  const keep = async (key: string, value: unknown): Promise<void> => {
    const box = await store.seal('checklists', key, value);
    await store.db.write(['checklists'], (tx) => tx.objectStore('checklists').put({ key, box }));
  };

  const find = async (hash: string): Promise<Definition | undefined> => {
    const had = found.get(hash);
    if (had !== undefined || hash === '') return had;
    const kept = v.tryParse(keptChecklist, await store.value('checklists', hash));
    if (kept?.hash !== hash) return undefined;
    found.set(hash, kept.definition);
    return kept.definition;
  };

  const fetchOne = async (http: Http, hash: string): Promise<boolean> => {
    if ((await find(hash)) !== undefined) return false;
    const answer = await http({ method: 'GET', path: `/api/v1/checklists/${encodeURIComponent(hash)}` });
    await keep(hash, readAnswer(keptChecklist, answer.json));
    return true;
  };

  return {
    cards,
    find,
    fetch: async (http, inUse) => {
      const { checklists } = readAnswer(checklistList, (await http({ method: 'GET', path: '/api/v1/checklists' })).json);
      await keep(LIST, checklists);
      cards.value = [...checklists].sort((a, b) => Number(b.current) - Number(a.current));
      const current = checklists.filter((one) => one.current).map((one) => one.hash);
      const news = [];
      for (const hash of new Set([...current, ...inUse])) news.push(await fetchOne(http, hash));
      return news.includes(true);
    },
  };
}
