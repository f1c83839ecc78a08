/**
 * A long list that comes from the server page by page. Pages are fetched where
 * the reader looks; an answer to a question that was changed meanwhile is
 * dropped.
 */
import { signal, type ReadonlySignal } from '@preact/signals';
import { reasonOf } from '../../ui/saved';
import type { Counts, Page, Row } from '../../lib/model.gen';
import { caseloadRequest, pagesFor, START, type CaseloadQuery, type CaseloadRequest } from './query';

export interface Caseload {
  readonly query: CaseloadQuery;
  readonly total: number;
  /** Loaded rows by their place in the list. */
  readonly rows: ReadonlyMap<number, Row>;
  readonly counts: Counts | null;
  readonly loading: boolean;
  /** Why the last page did not come, or empty. */
  readonly error: string;
}

export interface Pages {
  readonly state: ReadonlySignal<Caseload>;
  /** Asks anew and starts at the top. */
  readonly ask: (query: CaseloadQuery) => void;
  /** Sees to it that rows first to last are loaded. */
  readonly want: (first: number, last: number) => void;
  /** Fetches again what is shown. */
  readonly refresh: () => void;
}

interface Deps {
  readonly team: string;
  readonly get: (request: CaseloadRequest) => Promise<Page>;
}

/** Rows kept in memory around what is shown; more are dropped, oldest first. */
const KEEP = 3000;

export function createPages({ team, get }: Deps): Pages {
  const state = signal<Caseload>({ query: START, total: 0, rows: new Map(), counts: null, loading: true, error: '' });
  let turn = 0;
  let asked = new Set<number>();

  const load = async (offset: number): Promise<void> => {
    const mine = turn;
    asked.add(offset);
    state.value = { ...state.value, loading: true };
    try {
      const page = await get(caseloadRequest(team, state.value.query, offset));
      if (mine !== turn) return;
      state.value = {
        ...state.value,
        total: page.total,
        rows: withPage(state.value.rows, page, asked),
        counts: page.counts,
        loading: false,
        error: '',
      };
    } catch (error) {
      if (mine !== turn) return;
      asked.delete(offset);
      state.value = { ...state.value, loading: false, error: reasonOf(error) };
    }
  };

  const ask = (query: CaseloadQuery): void => {
    turn++;
    asked = new Set();
    state.value = { ...state.value, query, rows: new Map(), loading: true, error: '' };
    void load(0);
  };

  const want = (first: number, last: number): void => {
    for (const offset of pagesFor(first, Math.min(last, state.value.total - 1))) {
      if (!asked.has(offset)) void load(offset);
    }
  };

  return { state, ask, want, refresh: () => ask(state.value.query) };
}

function withPage(rows: ReadonlyMap<number, Row>, page: Page, asked: Set<number>): ReadonlyMap<number, Row> {
  const next = new Map(rows);
  page.rows.forEach((row, i) => next.set(page.offset + i, row));
  for (const place of next.keys()) {
    if (next.size <= KEEP) break;
    next.delete(place);
    for (const offset of pagesFor(place, place)) asked.delete(offset);
  }
  return next;
}
