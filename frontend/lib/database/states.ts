/** How the records on this tablet stand, of all that has a word on it. */
import { signal, type ReadonlySignal } from '@preact/signals';
import type { DatabaseNotices, DatabaseState } from './database';

/** The worst comes last. */
const order: readonly DatabaseState[] = ['well', 'blocked', 'full', 'lost', 'outdated', 'deleted'];

interface DatabaseStates {
  readonly worst: ReadonlySignal<DatabaseState>;
  /** A source of its own for each database: where one works, that says nothing of another. */
  readonly source: () => DatabaseNotices;
}

export function createDatabaseStates(): DatabaseStates {
  const worst = signal<DatabaseState>('well');
  /** Sources that are not well. */
  const of = new Map<DatabaseNotices, DatabaseState>();
  return {
    worst,
    source: () => {
      const tell: DatabaseNotices = (state) => {
        if (state === 'well') of.delete(tell);
        else of.set(tell, state);
        worst.value = order.findLast((one) => one === 'well' || [...of.values()].includes(one)) ?? 'well';
      };
      return tell;
    },
  };
}
