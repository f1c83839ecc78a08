import { useState } from 'preact/hooks';

/**
 * The text of a field whose text is saved when the person leaves it: what was
 * typed, until just that is what is stored. It is stored a moment after the save
 * has said so, and never when the save failed: a field that went by the save
 * would show the older text for that moment, or lose the newer one.
 *
 * While `settled` is false, what looks stored is only on its way.
 */
export function useTyped(stored: string, settled = true) {
  const [typed, setTyped] = useState<string | null>(null);
  if (settled && typed === stored) setTyped(null);
  return {
    text: typed ?? stored,
    /** Something stands in the field that is not stored. */
    unsaved: typed !== null && typed !== stored,
    /** The field shows this until it is stored; null shows what is stored now. */
    setTyped,
  };
}
