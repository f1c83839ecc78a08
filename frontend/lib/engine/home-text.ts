import type { Chair, NeedsNoted, PackedControl, Place, Visit } from '../model.gen';
import { dueAgain } from '../records/due';
import { flag, line, shortest } from './text-line';

/** Kit, needs, chair, passages and what is due again, as the engine reads them. */
export function homeLines(visit: Visit): readonly string[] {
  return [
    ...(visit.kit ?? []).map(kitLine),
    ...(visit.needs ? needLines(visit.needs) : []),
    ...(visit.chair ? [chairLine(visit.chair)] : []),
    ...(visit.places ?? []).map(placeLine),
    ...dueAgain(visit).map((item) => line('due', item)),
  ];
}

function kitLine(control: PackedControl): string {
  const figures = [control.start_gf, control.operate_gf, control.travel_mm, control.lever_mm ?? 0];
  return line(
    'kit',
    control.id,
    control.class,
    ...figures.map(shortest),
    seal(control.sealing ?? ''),
    flag(control.power_jack),
    flag(control.mode_jack),
    flag(control.attendant),
  );
}

/** What the code of IEC 60529 says of water: its second digit. */
function seal(code: string): string {
  return /^...([0-9])/.exec(code)?.[1] ?? '-';
}

/** What is known, in a fixed order. */
function needLines(needs: NeedsNoted): readonly string[] {
  const all: readonly (readonly [string, boolean | number | string | undefined])[] = [
    ['rough-ground', needs.rough_ground],
    ['helper-drives', needs.helper_drives],
    ['reverse-key', needs.reverse_key],
    ['blocked', needs.blocked],
    ['hours-driving', needs.hours_driving],
    ['commands-per-min', needs.commands_per_min],
    ['seconds-per-command', needs.seconds_per_command],
    ['wrist-deg', needs.wrist_deg],
    ['task-share', needs.task_share],
    ['task-per-min', needs.task_per_min],
    ['task-seconds', needs.task_seconds],
    ['task-wrist-deg', needs.task_wrist_deg],
    ['task-hours', needs.task_hours],
    ['wait-weeks', needs.wait_weeks],
    ['base', needs.base],
    ['course', needs.course],
    ['wish-site', needs.wish_site],
    ['wish-control', needs.wish_control],
  ];
  const bySite = (said: Readonly<Record<string, string>> = {}) => Object.entries(said).sort(([a], [b]) => (a < b ? -1 : 1));
  return [
    ...all.flatMap(([name, value]) => (value === undefined || value === '' ? [] : [line('need', name, valueOf(value))])),
    ...bySite(needs.moisture).map(([site, wet]) => line('moist', site, wet)),
    ...bySite(needs.rejected).map(([site, reason]) => line('ruled-out', site, reason.replace(/[^ -\u{10ffff}]/gu, ' '))),
  ];
}

function valueOf(value: boolean | number | string): string {
  if (typeof value === 'boolean') return flag(value);
  return typeof value === 'number' ? shortest(value) : value;
}

function chairLine(chair: Chair): string {
  const after = [chair.ahead_mm, chair.clearance_mm, chair.slope_deg ?? 0, chair.chair_kg ?? 0, chair.person_kg ?? 0];
  return line('chair', shortest(chair.length_mm), shortest(chair.width_mm), chair.drive, ...after.map(shortest));
}

function placeLine(place: Place): string {
  const figures = [
    place.width_mm,
    place.corridor_mm,
    place.corridor2_mm,
    place.rise_mm,
    place.run_mm,
    place.landing_mm,
    place.height_mm,
    place.limit_kg,
  ];
  return line('place', place.place, place.kind, ...figures.map((figure) => shortest(figure ?? 0)));
}
