/** The results that visits show: the server's where it has one for the very state, else this tablet's own. */
import { sha256, toBytes } from '../bytes';
import type { EncryptedStore } from '../database/encrypted-store';
import { EngineEnded } from '../engine/engine';
import { StoreError } from '../errors';
import type { Result, Visit, VisitSigned } from '../model.gen';
import { isNotOpen, type Folded, type Folds } from './folds';
import type { Outbox } from './outbox';
import { readStoredResult, sameResult, stateOf, type StoredResult } from './stored-result';
import type { Subjects } from './subjects';

/** How a subject stands: as it was folded last, with the server's result for this very state. */
export interface Current {
  readonly folded: Folded | null;
  readonly server: StoredResult | undefined;
}

/** What the server says of a visit. */
export interface ServerResult {
  readonly visit: Visit;
  readonly scored: { readonly sha256: string; readonly result: Result };
}

/** What a signature says of the result that it stands under. */
export type ResultToSign = Pick<VisitSigned, 'result'> & Pick<Result, 'level' | 'format' | 'engine' | 'catalogue'>;

interface ResultsDeps {
  readonly store: EncryptedStore;
  readonly outbox: Outbox;
  readonly folds: Pick<Folds, 'canonical'>;
  readonly subjects: Pick<Subjects<Current>, 'current' | 'isCurrent' | 'fold'>;
  /** Whether the visit is on this device. */
  readonly has: (visit: string) => boolean;
  /** Whether it is on the screen: its result stays in memory. */
  readonly isOpen: (visit: string) => boolean;
}

export interface Results {
  /** The server's result, where it is kept for this very state. */
  readonly confirmed: (visit: Visit) => Promise<StoredResult | undefined>;
  /** Keeps and shows the server's result when it is for the visit as it stands here; false when that could not be found out. */
  readonly confirm: (visit: string, server: ServerResult) => Promise<boolean>;
  /** The result as a signature names it; refused where it is not the one that was shown to whoever signs. */
  readonly toSign: (visit: string, shown: Result) => Promise<ResultToSign>;
  readonly drop: (visit: string) => void;
  readonly clear: () => void;
}

export function createResults(deps: ResultsDeps): Results {
  const { store, subjects, folds } = deps;
  const kept = new Map<string, StoredResult | undefined>();

  const read = async (visit: string): Promise<StoredResult | undefined> => {
    if (kept.has(visit)) return kept.get(visit);
    const found = readStoredResult(await store.value('results', visit));
    // One that came meanwhile is newer.
    if (kept.has(visit)) return kept.get(visit);
    if (deps.isOpen(visit)) kept.set(visit, found);
    return found;
  };

  const keep = (visit: string, result: StoredResult): Promise<void> =>
    deps.outbox.exclusive(async () => {
      if (!deps.has(visit)) return;
      const box = await store.seal('results', visit, result);
      await store.db.write(['results'], (tx) => tx.objectStore('results').put({ key: visit, box }));
      if (deps.isOpen(visit)) kept.set(visit, result);
    });

  /** The program's own result. One that ended since the fold has been replaced by one that must be given the visit first. */
  const canonical = (visit: string): Promise<string> =>
    folds.canonical(visit).catch(async (error: unknown) => {
      if (!(error instanceof EngineEnded) && !isNotOpen(error)) throw error;
      await subjects.fold(visit);
      return folds.canonical(visit);
    });

  const toSign = async (visit: string, shown: Result): Promise<ResultToSign> => {
    const now = await subjects.current(visit);
    if (now?.server !== undefined) return named(now.server.sha256, now.server.result, shown);
    if (now?.folded?.type !== 'visit' || now.folded.result === null)
      throw new StoreError('unknown', 'This tablet has no result for the visit as it stands, so it cannot be signed here yet.');
    const text = await canonical(visit).catch((cause: unknown) => {
      throw new StoreError('unknown', 'The result could not be computed again, so it cannot be signed yet. Try again.', { cause });
    });
    // Somebody went on meanwhile: the text may be of another result.
    if (!subjects.isCurrent(visit, now)) return toSign(visit, shown);
    return named(await sha256(toBytes(text)), now.folded.result, shown);
  };

  const confirm = async (visit: string, theirs: ServerResult): Promise<boolean> => {
    const now = await subjects.current(visit);
    if (now?.folded?.type !== 'visit') return now !== undefined;
    const { scored } = theirs;
    const state = await stateOf(now.folded.visit);
    if (state !== (await stateOf(theirs.visit))) return true;
    let own = scored.sha256;
    if (now.folded.result !== null) {
      const text = await canonical(visit).catch(() => undefined);
      if (text === undefined) return false;
      own = await sha256(toBytes(text));
    }
    // It may have been folded once more, or somebody went on meanwhile.
    if (!subjects.isCurrent(visit, now)) return confirm(visit, theirs);
    await keep(visit, { state, result: scored.result, sha256: scored.sha256, differs: own !== scored.sha256 });
    await subjects.fold(visit);
    return true;
  };

  return {
    toSign,
    confirmed: async (visit) => {
      const result = await read(visit.id);
      return result !== undefined && result.state === (await stateOf(visit)) ? result : undefined;
    },
    confirm,
    drop: (visit) => {
      kept.delete(visit);
    },
    clear: () => {
      kept.clear();
    },
  };
}

/** Level and hash are of one result, which is the one that was shown. */
function named(hash: string, result: Result, shown: Result): ResultToSign {
  if (!sameResult(result, shown)) throw new StoreError('conflict', 'The result has just changed. Look at it again before you sign.');
  const { level, format, engine, catalogue } = result;
  return { level, result: hash, format, engine, catalogue };
}
