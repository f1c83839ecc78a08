import type { SetupChosen } from '../model.gen';
import { readNumber } from '../parts/pad-text';
import { fromGramForce, toGramForce, unitDecimals, type ForceUnit } from '../measure/units';

/** The control, site and place as they are being typed. Forces are in the visit's unit. */
export interface SetupForm {
  readonly class: string;
  readonly control: string;
  readonly site: string;
  readonly start: string;
  readonly operate: string;
  readonly travel: string;
  readonly throw: Readonly<Record<string, string>>;
  readonly needed: readonly string[];
  readonly switchPress: string;
  readonly place: string;
  readonly window: string;
}

export const directions = ['forward', 'reverse', 'left', 'right'] as const;

/** A control class by kind. Figures are common practice, no source; the actual control goes before them. */
export interface ClassFacts {
  readonly id: string;
  readonly label: string;
  readonly text: string;
  readonly operateGf?: number;
  readonly travelMm?: number;
}

export const classes: readonly ClassFacts[] = [
  { id: 'standard', label: 'Standard stick', text: 'About 250 gf and 28 mm. Hand; rugged.', operateGf: 250, travelMm: 28 },
  { id: 'small', label: 'Small stick', text: 'About 50 gf; read the travel off the control. Chin, weak hand, foot.', operateGf: 50 },
  { id: 'very-light', label: 'Very light stick', text: 'About 10 gf and as little as 3 mm. Finger, thumb.', operateGf: 10, travelMm: 3 },
  { id: 'force-sensing', label: 'Force-sensing stick', text: 'Hardly moves; the force is set.' },
  { id: 'switched', label: 'Switches or head pads', text: 'One to four switches, also without touch. Not graded.' },
  { id: 'breath', label: 'Breath control', text: 'Worked by sipping and puffing.' },
  { id: 'scanning', label: 'One switch with scanning', text: 'Slow; stopping must be certain.' },
  { id: 'attendant', label: 'Attendant control', text: 'A helper drives. About 250 gf or more.', operateGf: 250, travelMm: 28 },
  { id: 'non-contact', label: 'Control without touch', text: 'Head, tongue or eye.' },
];

function shown(gramForce: number | undefined, unit: ForceUnit): string {
  return gramForce === undefined || gramForce === 0 ? '' : String(fromGramForce(gramForce, unit));
}

/** The form of what was chosen last, or an empty one. */
export function formOf(setup: SetupChosen | undefined, unit: ForceUnit): SetupForm {
  return {
    class: setup?.class ?? '',
    control: setup?.control ?? '',
    site: setup?.site ?? '',
    start: shown(setup?.start_gf, unit),
    operate: shown(setup?.operate_gf, unit),
    travel: setup === undefined || setup.travel_mm === 0 ? '' : String(setup.travel_mm),
    throw: Object.fromEntries(directions.map((direction) => [direction, String(setup?.throw?.[direction] ?? 100)])),
    needed: setup?.needed ?? directions,
    switchPress: shown(setup?.switch_press_gf, unit),
    place: setup?.place ?? '',
    window: setup?.window ?? '',
  };
}

/** Chooses a class; its usual figures fill fields that are still empty or held another class's figures. */
export function chooseClass(form: SetupForm, id: string, unit: ForceUnit): SetupForm {
  const before = classes.find((one) => one.id === form.class);
  const next = classes.find((one) => one.id === id);
  const free = (text: string, usual: string) => text === '' || text === usual;
  return {
    ...form,
    class: id,
    operate: free(form.operate, shown(before?.operateGf, unit)) ? shown(next?.operateGf, unit) : form.operate,
    travel: free(form.travel, String(before?.travelMm ?? '')) ? String(next?.travelMm ?? '') : form.travel,
  };
}

export type SetupErrors = Readonly<Partial<Record<keyof SetupForm, string>>>;

const mostForce = 10_000;
const mostSwitch = 2_000;
const mostTravel = 150;

interface NumberRule {
  readonly decimals: number;
  readonly most: number;
  readonly unit: string;
}

/** A number that may stay blank, which is 0: not known, or none. */
function readOpen(text: string, rule: NumberRule): { readonly value: number; readonly error?: string } {
  const read = readNumber(text, rule.decimals);
  if (read.kind === 'blank') return { value: 0 };
  if (read.kind === 'wrong') return { value: 0, error: read.message };
  if (read.value > rule.most) return { value: 0, error: `Expected 0 to ${rule.most} ${rule.unit}, got ${read.value}.` };
  return { value: read.value };
}

function throwsOf(form: SetupForm): Record<string, number> {
  return Object.fromEntries(Object.entries(form.throw).map(([direction, percent]) => [direction, Number(percent)] as const).filter(([, percent]) => percent !== 100));
}

/** What is to be saved, or what is wrong, field by field. */
export function readSetup(form: SetupForm, unit: ForceUnit): { readonly setup: SetupChosen } | { readonly errors: SetupErrors } {
  const force = (most: number): NumberRule => ({ decimals: unitDecimals(unit), most: fromGramForce(most, unit), unit });
  const start = readOpen(form.start, force(mostForce));
  const operate = readOpen(form.operate, force(mostForce));
  const press = readOpen(form.switchPress, force(mostSwitch));
  const travel = readOpen(form.travel, { decimals: 1, most: mostTravel, unit: 'mm' });
  const errors: Record<string, string> = {};
  if (form.class === '') errors.class = 'Expected one kind of control, got none.';
  if (form.site === '') errors.site = 'Expected a body site, got none.';
  if (form.needed.length === 0) errors.needed = 'Expected at least one direction, got none.';
  if (start.error) errors.start = start.error;
  if (operate.error) errors.operate = operate.error;
  if (press.error) errors.switchPress = press.error;
  if (travel.error) errors.travel = travel.error;
  if (!start.error && !operate.error && operate.value > 0 && start.value > operate.value) {
    errors.start = `Expected at most the force for full command, ${operate.value} ${unit}, got ${start.value}.`;
  }
  if (Object.keys(errors).length > 0) return { errors };
  const throws = throwsOf(form);
  const text = (value: string) => value.trim();
  return {
    setup: {
      class: form.class,
      ...(text(form.control) === '' ? {} : { control: text(form.control) }),
      site: form.site,
      start_gf: toGramForce(start.value, unit),
      operate_gf: toGramForce(operate.value, unit),
      travel_mm: travel.value,
      ...(Object.keys(throws).length === 0 ? {} : { throw: throws }),
      needed: directions.filter((direction) => form.needed.includes(direction)),
      ...(press.value === 0 ? {} : { switch_press_gf: toGramForce(press.value, unit) }),
      ...(text(form.place) === '' ? {} : { place: text(form.place) }),
      ...(text(form.window) === '' ? {} : { window: text(form.window) }),
    },
  };
}
