/**
 * A tablet that the team has withdrawn sends what it holds, says so, and clears
 * the person's rows and keys, in this order; what an earlier password locks goes
 * with them. What it cannot send it keeps, still encrypted.
 */
import { deleteDB } from 'idb';
import type { Http } from '../api/http';
import { personPlan } from '../database/rows';
import { readWaiting } from '../records/waiting';
import type { KeyStore } from './key-store';
import { clearLockedRows, type LockedRowsDeps } from './locked-rows';
import type { OpenKeys } from './session';
import type { Workspace } from './workspace';

/** What a withdrawn tablet is at: sending, keeping what it could not send, done but for what an earlier password locks, or done. */
export type Withdrawn = 'sending' | 'kept' | 'part' | 'cleared';

/** How it went: `kept` when nothing was cleared, `part` when only what an earlier password locks is left. */
export async function clearTablet(deps: {
  readonly http: Http;
  readonly keyStore: KeyStore;
  readonly workspace: Workspace;
  readonly who: OpenKeys;
  readonly notices: LockedRowsDeps['notices'];
}): Promise<Exclude<Withdrawn, 'sending'>> {
  const { http, keyStore, workspace, who, notices } = deps;
  try {
    if (who.tablet !== '') await workspace.pushOnly();
    if ((await readWaiting(workspace.store)).total > 0) return 'kept';
    await http({ method: 'POST', path: `/api/v1/tablets/${encodeURIComponent(who.tablet)}/cleared` });
  } catch {
    return 'kept';
  }
  await workspace.close();
  // The key goes first: without it the rows are noise, should the rest be cut short.
  await keyStore.forget(who.keyRowId);
  await deleteDB(personPlan(who.person, who.rows).name);
  return (await clearLockedRows(http, { keyStore, notices, person: who.person, keyRowId: who.keyRowId }).catch(() => false))
    ? 'cleared'
    : 'part';
}
