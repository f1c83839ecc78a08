/** Entries of the person who is signed in. */
import type { Engine } from '../engine/engine';
import { lockedError, StoreError } from '../errors';
import type { Kind, Ref } from '../model.gen';
import { checkEntry } from '../records/check-entry';
import type { Session } from '../records/types';
import type { Workspace } from './workspace';

export interface WriteEntryDeps {
  readonly engine: Pick<Engine, 'ask'>;
  /** Null while nobody is signed in. */
  readonly open: () => { readonly workspace: Pick<Workspace, 'projections' | 'sealSigned'>; readonly session: Session } | null;
  /** Told when an entry is on the disk. */
  readonly wrote: () => void;
}

/**
 * Writes one event. Resolves with its name when the strict transaction is
 * complete, so "saved" may be shown; rejects with StoreError otherwise, also where
 * the entry of a form is not as the server would take it.
 */
export async function writeEntry(deps: WriteEntryDeps, kind: Kind, subject: string, body: unknown): Promise<Ref> {
  const now = deps.open();
  if (now === null) throw lockedError();
  const { workspace } = now;
  if (now.session.tablet === '') throw new StoreError('refused', 'This account is in no team, so it cannot make entries.');
  await checkEntry(deps.engine, kind, body);
  // The check takes time: what one person entered goes into nobody else's log.
  if (deps.open()?.workspace !== workspace) throw lockedError();
  const ref = await workspace.projections.write(kind, subject, body);
  deps.wrote();
  if (kind === 'visit-signed' || kind === 'amendment-made') void workspace.sealSigned();
  return ref;
}
