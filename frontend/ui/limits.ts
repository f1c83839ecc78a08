import { signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { thresholds } from '../lib';

/** The engine's limits by id. */
export type Limits = ReadonlyMap<string, number>;

const limits = signal<Limits | null>(null);
let asked = false;

/** The engine's own table of limits by id; null until it has come, empty when it does not. A limit never stands in a screen. */
export function useLimits(): Limits | null {
  useEffect(() => {
    if (asked) return;
    asked = true;
    thresholds().then(
      (rows) => {
        limits.value = new Map(rows.map((row) => [row.id, Number(row.value)]));
      },
      () => {
        asked = false; // Tried again with the next screen.
        limits.value ??= new Map();
      },
    );
  }, []);
  return limits.value;
}
