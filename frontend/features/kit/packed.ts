import type { PackedControl } from '../../lib/model.gen';

function plain(control: PackedControl): string {
  return JSON.stringify(Object.entries(control).sort(([a], [b]) => (a < b ? -1 : 1)));
}

/** Whether the visit has the kit as it is now. */
export function isAsPacked(now: readonly PackedControl[], was: readonly PackedControl[]): boolean {
  const sorted = (list: readonly PackedControl[]) => list.map(plain).sort().join('\n');
  return sorted(now) === sorted(was);
}
