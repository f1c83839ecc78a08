/**
 * What runs once somebody unlocks the tablet: keys, rows, sending. It comes with
 * the screens, since nobody needs it to see where to sign in.
 */
import { createDeriver } from '../crypto/derive';
import { createDatabase } from '../database/database';
import { keyDatabasePlan } from '../database/rows';
import { argon2InWorker } from '../workers';
import { deviceLabel } from './browser';
import { createKeyStore } from './key-store';
import type { SessionDeps } from './session';
import { openWorkspace, sendRows, type World } from './workspace';

export { canPasskey, enrolPasskey, unlockWithPasskey } from './passkey';
export { createPin, isPin } from './pin';
export { lockedRowsActions } from './locked-rows';
export { openOffline, renewSession, reopen, signInWith } from './session';
export { arrival, openWithSingleSignOn, startAddress, tooEasy, type Arrival } from './single-sign-on';
export { clearTablet } from './withdraw';

/** All that signing in needs, on this browser. */
export function createSession(world: World): SessionDeps {
  const db = createDatabase(keyDatabasePlan, world.notices());
  const keyStore = createKeyStore({ db, deriver: createDeriver(argon2InWorker), now: () => world.now().getTime() });
  return {
    http: world.http,
    keyStore,
    label: deviceLabel,
    openWorkspace: (who) => openWorkspace(world, who),
    sendRows: (who) => sendRows(world, who),
  };
}
