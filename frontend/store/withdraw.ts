/**
 * A tablet that the team has withdrawn sends what it holds, says so, and clears
 * the person's rows and keys, in this order. What it cannot send it keeps, still
 * encrypted.
 */
import { deleteDB } from 'idb';
import type { Desk } from './desk';
import type { Http } from './http';
import type { Keepers } from './keepers';
import { personPlan } from './rows';
import type { Keyed } from './session';
import { readWaiting } from './waiting';

/** True when everything was sent and is gone from this tablet. */
export async function clearTablet(deps: { readonly http: Http; readonly keepers: Keepers; readonly desk: Desk; readonly who: Keyed }): Promise<boolean> {
  const { http, keepers, desk, who } = deps;
  try {
    if (who.tablet !== '') await desk.pushOnly();
    if ((await readWaiting(desk.shelf)).total > 0) return false;
    await http({ method: 'POST', path: `/api/v1/tablets/${encodeURIComponent(who.tablet)}/cleared` });
  } catch {
    return false;
  }
  await desk.close();
  // The key goes first: without it the rows are noise, should the rest be cut short.
  await keepers.forget(who.keeper);
  await deleteDB(personPlan(who.person, who.rows).name);
  return true;
}
