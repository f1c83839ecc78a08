import type { Control, KitPacked, PackedControl } from '../model.gen';

/** A team's kit as it goes into a visit, so that later changes to the kit change no verdict. */
export function packKit(controls: readonly Control[], team: string): KitPacked {
  return { controls: controls.filter((control) => control.team === team && !control.gone).map(packed) };
}

function packed(control: Control): PackedControl {
  const { id, name, class: kind, start_gf, operate_gf, travel_mm, power_jack, mode_jack, attendant, lever_mm, sealing } = control;
  return {
    id,
    name,
    class: kind,
    start_gf,
    operate_gf,
    travel_mm,
    power_jack,
    mode_jack,
    attendant,
    ...(lever_mm === undefined ? {} : { lever_mm }),
    ...(sealing === undefined ? {} : { sealing }),
  };
}
