/**
 * Keeps what is being counted right now, so that a closed page, a crash or an
 * empty battery loses nothing. Only counts, times and chosen words such as
 * "indoors" go in, under the visit's random id: nothing that names a person.
 * A finished run goes through the store like everything else.
 */
export interface DraftBox {
  readonly load: (key: string) => unknown;
  readonly keep: (key: string, value: unknown) => boolean;
  readonly drop: (key: string) => void;
}

/** What a box needs of the browser's storage; a test gives a plain map. */
export type Shelf = Pick<Storage, 'getItem' | 'setItem' | 'removeItem'>;

const prefix = 'doorsill-draft:';

export function createDraftBox(shelf: () => Shelf): DraftBox {
  return {
    load: (key) => {
      try {
        const kept = shelf().getItem(prefix + key);
        return kept === null ? null : (JSON.parse(kept) as unknown);
      } catch {
        return null; // A damaged draft must not stop the trial.
      }
    },
    keep: (key, value) => {
      try {
        shelf().setItem(prefix + key, JSON.stringify(value));
        return true;
      } catch {
        return false; // Full or forbidden: the caller says so.
      }
    },
    drop: (key) => {
      try {
        shelf().removeItem(prefix + key);
      } catch {
        // Nothing was kept, so nothing is left.
      }
    },
  };
}

/** The box of this browser. */
export const draftBox: DraftBox = createDraftBox(() => localStorage);
