/**
 * What runs once somebody unlocks the tablet: keys, rows, sending. It comes with
 * the screens, since nobody needs it to see where to sign in.
 */
import { deviceLabel } from './browser';
import { createDatabase } from '../database/database';
import { createDeriver } from '../crypto/derive';
import { openDesk, type World } from './workspace';
import { createKeepers } from './key-store';
import { keeperPlan } from '../database/rows';
import type { SessionDeps } from './session';
import { argon2InWorker } from '../workers';

export { canPasskey, enrolPasskey, unlockWithPasskey } from './passkey';
export { createPin } from './pin';
export { putAwayWays } from './locked-rows';
export { openOffline, renewSession, reopen, signInWith } from './session';
export { arrival, openVouched, startAddress, type Arrival } from './single-sign-on';
export { clearTablet } from './withdraw';

/** All that signing in needs, on this browser. */
export function createSession(world: World): SessionDeps {
  const db = createDatabase(keeperPlan, world.notices);
  const keepers = createKeepers({ db, deriver: createDeriver(argon2InWorker), now: () => world.now().getTime() });
  return { http: world.http, keepers, label: deviceLabel, openDesk: (who) => openDesk(world, who) };
}
