/** What each answer allows, as the engine reads it from the checklist. */
import { signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { ceilings } from '../../lib';
import type { AnswerCeiling, CeilingsOfItem, Visit } from '../../lib/model.gen';

export type Ceilings = ReadonlyMap<string, CeilingsOfItem>;

const known = signal<ReadonlyMap<string, Ceilings>>(new Map());

/** By item; empty until the engine has answered. */
export function useCeilings(visit: Visit): Ceilings {
  const { hash } = visit.checklist;
  const had = known.value.get(hash);
  useEffect(() => {
    if (had !== undefined) return;
    ceilings(hash).then(
      (items) => {
        known.value = new Map([...known.value, [hash, new Map(items.map((one) => [one.item, one]))]]);
      },
      () => undefined, // Asked again with the next screen.
    );
  }, [hash, had]);
  return had ?? none;
}

const none: Ceilings = new Map();

/** What one answer allows, and beside it what it allows where something else is so too. */
export function ceilingsOf(of: CeilingsOfItem | undefined, is: (one: AnswerCeiling) => boolean): readonly AnswerCeiling[] {
  return (of?.answers ?? []).filter(is);
}
