/**
 * A tablet that the team has withdrawn sends what it holds, says so, and erases
 * the person's rows and keys, in this order; what an earlier password locks goes
 * with them. What it cannot send it keeps, still encrypted.
 */
import type { Http } from '../api/http';
import { erasePerson } from '../database/erase';
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
  const path = `/api/v1/tablets/${encodeURIComponent(who.tablet)}/cleared`;
  try {
    if (who.tablet !== '') await workspace.pushOnly();
    if ((await readWaiting(workspace.store)).total > 0) return 'kept';
    await http({ method: 'POST', path });
  } catch {
    return 'kept';
  }
  await workspace.close();
  // The key goes first: without it the rows are noise, should the rest be cut short.
  await keyStore.forget(who.keyRowId);
  await erasePerson(who.person, who.rows, notices());
  const all = await clearLockedRows(http, { keyStore, notices, person: who.person, keyRowId: who.keyRowId }).catch(() => false);
  if (!all) return 'part';
  // On this word the browser takes its own files away, which no page can: only where nobody else has anything here.
  if (await keyStore.isEmpty()) await http({ method: 'POST', path: `${path}?storage=unused` }).catch(() => undefined);
  return 'cleared';
}
