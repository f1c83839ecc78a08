/** Checklists on this tablet: fetched once, kept for as long as a visit is pinned to them. */
import { signal, type ReadonlySignal } from '@preact/signals';
import type { Http } from '../api/http';
import { checklistList, readAnswer } from '../api/schemas';
import type { EncryptedStore } from '../database/encrypted-store';
import type { Definition } from '../model.gen';
import * as v from '../schema';
import type { Checklist } from './open-visit';
import type { ChecklistCard } from './types';

const card = v.object({ id: v.string, version: v.string, hash: v.string, title: v.string, current: v.boolean });

const level = v.looseObject({ level: v.string, text: v.string });
const definition = v.looseObject({
  id: v.string,
  version: v.string,
  title: v.string,
  help: v.optional(v.list(level)),
  sections: v.list(
    v.looseObject({
      code: v.string,
      title: v.string,
      items: v.list(v.looseObject({ id: v.string, title: v.string, prompt: v.string, type: v.string, weight: v.number })),
    }),
  ),
});

const keptChecklist = v.object({ definition, rules: v.string, hash: v.string });

export interface Checklists {
  readonly cards: ReadonlySignal<readonly ChecklistCard[]>;
  readonly find: (hash: string) => Promise<Checklist | undefined>;
  /** Fetches the list and what is missing of it; true when something came in. */
  readonly fetch: (http: Http, inUse: ReadonlySet<string>) => Promise<boolean>;
}

const LIST = 'list';

export async function openChecklists(store: EncryptedStore): Promise<Checklists> {
  const cards = signal<readonly ChecklistCard[]>([]);
  const found = new Map<string, Checklist>();
  cards.value = v.tryParse(v.list(card), await store.value('checklists', LIST)) ?? [];

  const keep = async (key: string, value: unknown): Promise<void> => {
    const box = await store.seal('checklists', key, value);
    await store.db.write(['checklists'], (tx) => tx.objectStore('checklists').put({ key, box }));
  };

  const find = async (hash: string): Promise<Checklist | undefined> => {
    const had = found.get(hash);
    if (had !== undefined || hash === '') return had;
    const kept = v.tryParse(keptChecklist, await store.value('checklists', hash));
    if (kept?.hash !== hash) return undefined;
    // The parts that the app reads were checked; the rest is the server's own.
    const checklist = { definition: kept.definition as unknown as Definition, rules: kept.rules };
    found.set(hash, checklist);
    return checklist;
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
