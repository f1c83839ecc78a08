/**
 * Asks the tablet's program, before an entry of a form is written, what the server
 * would say of it, so that the form can show what is wrong while it is open. What
 * is touched, measured or told is on the disk first and not asked about.
 */
import type { Engine } from '../engine/engine';
import { sayBadInput, StoreError } from '../errors';
import type { AmendmentMade, Kind } from '../model.gen';
import { atMost } from '../patience';

/** Kinds that are entered by a form with a button of its own. */
const formKinds: ReadonlySet<Kind> = new Set([
  'client-opened',
  'client-changed',
  'control-listed',
  'setup-chosen',
  'mount-noted',
  'setting-changed',
  'chair-measured',
  'place-measured',
  'needs-noted',
  'override-made',
  'plan-agreed',
]);

/** How long a form waits for the program. The server decides in any case. */
const PATIENCE_MS = 1_000;

/**
 * Rejects with StoreError, which names the field, where the server would set the
 * entry aside; of an amendment what it changes is checked. Resolves where the program
 * gives no answer.
 */
export async function checkEntry(engine: Pick<Engine, 'ask'>, kind: Kind, body: unknown): Promise<void> {
  if (kind === 'amendment-made') {
    const amended = body as AmendmentMade;
    return checkEntry(engine, amended.kind as Kind, amended.change);
  }
  if (!formKinds.has(kind)) return;
  const asking = engine.ask('check-body', { kind, body }).catch(() => null);
  const bad = await atMost(PATIENCE_MS, asking);
  if (bad) throw new StoreError('refused', sayBadInput(bad));
}
