/**
 * One open subject: its events in memory and, for a visit, its fold and result.
 * The result is provisional until the server's result for the same visit text
 * has come; then the server's is shown.
 */
import { signal, type ReadonlySignal, type Signal } from '@preact/signals';
import type { EncryptedStore } from '../database/encrypted-store';
import type { Engine } from '../engine/engine';
import type { ResultView } from '../engine/result';
import { visitText } from '../engine/visit-text';
import type { Definition, Visit } from '../model.gen';
import type { StoredEvent } from './event';
import { foldHeld, type Standing } from './snapshot';
import { readStoredResult, resultView, standingOfResult, stateOf, type StoredResult } from './stored-result';
import type { VisitView } from './types';

/** A checklist as it is kept on the tablet. */
export interface Checklist {
  readonly definition: Definition;
  readonly rules: string;
}

export interface OpenVisitDeps {
  readonly store: EncryptedStore;
  readonly engine: Engine;
  /** Undefined while the checklist has not been fetched. */
  readonly checklist: (hash: string) => Promise<Checklist | undefined>;
  readonly saveStanding: (visit: string, result: StoredResult, standing: Standing) => Promise<void>;
}

type OpenVisitView = Omit<VisitView, 'sync' | 'blind'>;

export interface OpenVisit {
  readonly view: ReadonlySignal<OpenVisitView | null>;
  readonly events: () => Promise<readonly StoredEvent[]>;
  readonly replace: (events: readonly StoredEvent[]) => void;
  /** Begins to show the visit; scores it. */
  readonly open: () => void;
  readonly retry: () => Promise<void>;
  /** Ends its timer and forgets what it held. */
  readonly close: () => void;
  /** Shows and keeps the server's result when it is for the visit as it stands here. */
  readonly confirm: (server: { readonly visit: unknown; readonly text: string }) => Promise<void>;
}

/** A tablet's own result goes to disk once the taps pause; it can be computed again. */
const KEEP_AFTER_MS = 500;

/** The latest result of a visit, in memory and on the disk. */
interface LatestResult {
  readonly get: () => StoredResult | undefined;
  /** What the result says, taken apart once: that costs more than showing it. */
  readonly view: () => ResultView | null;
  /** Reads what the disk has, the first time. */
  readonly read: () => Promise<void>;
  readonly set: (next: StoredResult) => void;
  readonly save: () => Promise<void>;
  readonly saveSoon: () => void;
  readonly clear: () => void;
}

function createLatestResult(id: string, deps: OpenVisitDeps): LatestResult {
  let result: StoredResult | undefined;
  let onDisk = false;
  let saving: ReturnType<typeof setTimeout> | undefined;
  let parsed: { readonly text: string; readonly view: ResultView | null } | undefined;

  const view = (): ResultView | null => {
    if (result === undefined) return null;
    if (parsed?.text !== result.text) parsed = { text: result.text, view: resultView(result.text) };
    return parsed.view;
  };
  const save = async (): Promise<void> => {
    if (result === undefined) return;
    // What cannot be kept now is computed again at the next opening.
    await deps.saveStanding(id, result, standingOfResult(result, view())).catch(() => undefined);
  };
  return {
    view,
    save,
    get: () => result,
    read: async () => {
      if (onDisk) return;
      onDisk = true;
      const kept = readStoredResult(await deps.store.value('results', id));
      result ??= kept;
    },
    set: (next) => {
      clearTimeout(saving);
      result = next;
    },
    saveSoon: () => {
      saving = setTimeout(save, KEEP_AFTER_MS);
    },
    clear: () => {
      clearTimeout(saving);
      [result, parsed] = [undefined, undefined];
    },
  };
}

function viewOf(result: LatestResult, visit: Visit, checklist: Definition, state: string, engineError: string): OpenVisitView {
  const latest = result.get();
  const current = latest?.state === state;
  return {
    visit,
    checklist,
    engineError,
    result: result.view(),
    resultText: latest?.text ?? '',
    provisional: !(current && latest?.by === 'server'),
    differs: current && (latest?.differs ?? false),
  };
}

export function createOpenVisit(id: string, deps: OpenVisitDeps): OpenVisit {
  const view: Signal<OpenVisitView | null> = signal(null);
  const result = createLatestResult(id, deps);
  let held: readonly StoredEvent[] | null = null;
  let loading: Promise<readonly StoredEvent[]> | null = null;
  let opened = false;
  /** Counts changes, so that an answer that comes late is dropped. */
  let turn = 0;

  const events = (): Promise<readonly StoredEvent[]> => {
    if (held !== null) return Promise.resolve(held);
    loading ??= deps.store.events(id).then((list) => {
      loading = null;
      held ??= list;
      return held;
    });
    return loading;
  };

  const show = async (list: readonly StoredEvent[]): Promise<void> => {
    if (!opened) return;
    const mine = ++turn;
    const visit = foldHeld(list);
    if (visit.id === '') return;
    const checklist = await deps.checklist(visit.checklist.hash);
    await result.read();
    const state = await stateOf(visit);
    if (mine !== turn || checklist === undefined) return;
    view.value = viewOf(result, visit, checklist.definition, state, view.value?.engineError ?? '');
    if (result.get()?.state !== state) await score(mine, visit, checklist, state);
  };

  const score = async (mine: number, visit: Visit, checklist: Checklist, state: string): Promise<void> => {
    try {
      const text = await deps.engine.score(id, visit.checklist.hash, checklist.rules, visitText(visit));
      if (text === null || mine !== turn) return;
      take({ state, text, by: 'tablet', differs: false }, visit, checklist);
      result.saveSoon();
    } catch (error) {
      if (mine !== turn) return;
      const engineError = error instanceof Error ? error.message : String(error);
      view.value = viewOf(result, visit, checklist.definition, state, engineError);
    }
  };

  const take = (next: StoredResult, visit: Visit, checklist: Checklist): void => {
    result.set(next);
    view.value = viewOf(result, visit, checklist.definition, next.state, '');
  };

  return {
    view,
    events,
    replace: (list) => {
      held = list;
      void show(list);
    },
    open: () => {
      if (opened) return;
      opened = true;
      void events().then(show);
    },
    retry: async () => {
      if (opened && view.value === null) await show(await events());
    },
    close: () => {
      turn += 1;
      result.clear();
      [held, view.value] = [[], null];
    },
    confirm: async (server) => {
      const visit = foldHeld(await events());
      const checklist = await deps.checklist(visit.checklist.hash);
      if (checklist === undefined || visit.id === '') return;
      await result.read();
      const state = await stateOf(visit);
      if (state !== (await stateOf(server.visit as Visit))) return;
      const before = result.get();
      const own = before?.state === state && before.by === 'tablet' ? before.text : server.text;
      take({ state, text: server.text, by: 'server', differs: own !== server.text }, visit, checklist);
      await result.save();
    },
  };
}
