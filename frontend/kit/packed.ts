import type { Control, PackedControl } from '../model.gen';

/** What of a control goes into a visit: what verdicts rest on. */
export function packed(control: Control): PackedControl {
  const { id, name, class: kind, start_gf, operate_gf, travel_mm, lever_mm, sealing, power_jack, mode_jack, attendant } = control;
  return {
    id, name, class: kind, start_gf, operate_gf, travel_mm, power_jack, mode_jack, attendant,
    ...(lever_mm === undefined ? {} : { lever_mm }), ...(sealing === undefined ? {} : { sealing }),
  };
}

function plain(control: PackedControl): string {
  return JSON.stringify(Object.entries(control).sort(([a], [b]) => (a < b ? -1 : 1)));
}

/** Whether the visit has the kit as it is now. */
export function isAsPacked(now: readonly PackedControl[], was: readonly PackedControl[]): boolean {
  const sorted = (list: readonly PackedControl[]) => list.map(plain).sort().join('\n');
  return sorted(now) === sorted(was);
}
