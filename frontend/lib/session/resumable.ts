import type { Pin, VaultAsk, VaultReply } from './pin-vault';
import type { OpenKeys } from './session';

/** Whose session it is. */
export interface SignedInAs {
  readonly who: OpenKeys;
  /** The name that was typed, or empty with a passkey. */
  readonly login: string;
}

/** A session that can come back. */
export interface ResumableSession extends SignedInAs {
  readonly online: boolean;
  readonly pin: Pin;
}

/** The service worker as the holder of keys; where there is none, asking gives null. */
export interface Keeper {
  readonly tell: (ask: VaultAsk<ResumableSession>) => void;
  readonly ask: (ask: VaultAsk<ResumableSession>) => Promise<VaultReply<ResumableSession> | null>;
}
