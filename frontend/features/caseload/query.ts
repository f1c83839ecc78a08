/** What the lead asks the server for. */

import type { CaseloadSearch } from '../../lib/model.gen';

export const SORTS = ['wait', 'level', 'stops', 'visit', 'recheck', 'name', 'priority'] as const;
export type Sort = (typeof SORTS)[number];

export const SORT_WORDS: Readonly<Record<Sort, string>> = {
  wait: 'longest wait first',
  level: 'lowest level first',
  stops: 'most that forbids driving first',
  visit: 'longest since a visit first',
  recheck: 'earliest recheck first',
  name: 'name',
  priority: 'most urgent first',
};

export interface CaseloadQuery {
  readonly sort: Sort;
  readonly order: 'first' | 'last';
  readonly q: string;
  /** A level id, "none", or empty for every level. */
  readonly level: string;
  /** A flag, or empty. */
  readonly flag: string;
  /** A person id, "none", or empty for everybody. */
  readonly assignee: string;
  readonly status: string;
}

export const START: CaseloadQuery = { sort: 'wait', order: 'first', q: '', level: '', flag: '', assignee: '', status: 'open' };

/** Rows a request asks for. */
export const PAGE = 100;

/** One page of the caseload as it is asked for. */
export interface CaseloadRequest {
  readonly path: string;
  /** Words to search for: they are names, which no address may hold. */
  readonly search?: CaseloadSearch;
}

export function caseloadRequest(team: string, query: CaseloadQuery, offset: number): CaseloadRequest {
  const params = new URLSearchParams({ sort: query.sort, order: query.order === 'first' ? 'asc' : 'desc' });
  for (const name of ['level', 'flag', 'assignee', 'status'] as const) {
    const value = query[name].trim();
    if (value !== '') params.set(name, value);
  }
  params.set('offset', String(offset));
  params.set('limit', String(PAGE));
  const path = `/api/v1/teams/${encodeURIComponent(team)}/caseload`;
  const q = query.q.trim();
  return q === '' ? { path: `${path}?${params}` } : { path: `${path}/search?${params}`, search: { q } };
}

/** The query after a click on a column's head: again on the same turns it round. */
export function sortedBy(query: CaseloadQuery, sort: Sort): CaseloadQuery {
  const order = query.sort === sort && query.order === 'first' ? 'last' : 'first';
  return { ...query, sort, order };
}

/** The offsets of the pages that a range of rows (first to last) touches. */
export function pagesFor(first: number, last: number): readonly number[] {
  const pages: number[] = [];
  for (let offset = Math.floor(Math.max(0, first) / PAGE) * PAGE; offset <= last; offset += PAGE) pages.push(offset);
  return pages;
}
