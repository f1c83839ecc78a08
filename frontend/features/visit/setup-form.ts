import { classes, type ClassFacts } from '../../ui/control-classes';
import type { Judge } from '../../ui/judge';
import { readNumber } from '../../ui/pad-text';
import { sentenceOf } from '../../ui/words';
import { unitDecimals } from '../../ui/units';
import { directions, ranges, type ForceUnit, type PackedControl, type SetupChosen } from '../../lib/model.gen';

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
  readonly powerPress: string;
  readonly modePress: string;
  readonly stopPress: string;
  /** One of driveModes, or '' while nobody was asked. */
  readonly driveMode: string;
  readonly separateStop: boolean;
  readonly breath: string;
  readonly place: string;
  readonly window: string;
}

/** What a class usually asks for, as the form shows it; common practice, no source. */
export interface Usual {
  readonly operate: string;
  readonly travel: string;
}

/** A control of the team's kit with its own figures in the visit's unit. */
export interface KitChoice {
  readonly id: string;
  readonly name: string;
  readonly class: string;
  readonly start: string;
  readonly operate: string;
  readonly travel: string;
}

/** Figures of the form in the visit's unit, worked out before it opens. */
export interface SetupFigures {
  readonly start: string;
  readonly operate: string;
  readonly switchPress: string;
  readonly powerPress: string;
  readonly modePress: string;
  readonly stopPress: string;
  /** By class id; a class without usual figures is missing. */
  readonly usual: ReadonlyMap<string, Usual>;
  /** The controls of the kit that was packed. */
  readonly kit: readonly KitChoice[];
}

function typed(value: number | undefined, decimals: number): string {
  return value === undefined || value === 0 ? '' : String(Number(value.toFixed(decimals)));
}

/** Turns what was saved and what classes usually ask for into the visit's unit. */
export async function figuresFor(
  setup: SetupChosen | undefined,
  unit: ForceUnit,
  limits: ReadonlyMap<string, number>,
  convert: Judge['convert'],
  packed: readonly PackedControl[] = [],
): Promise<SetupFigures> {
  const known = classes.filter((one) => limits.has(`class-${one.id}-force`));
  const usualForces = known.map((one) => limits.get(`class-${one.id}-force`) ?? 0);
  const saved = [
    setup?.start_gf,
    setup?.operate_gf,
    setup?.switch_press_gf,
    setup?.power_press_gf,
    setup?.mode_press_gf,
    setup?.stop_press_gf,
  ].map((force) => force ?? 0);
  const [start, operate, press, power, mode, stop, ...forces] = await convert([...saved, ...usualForces], 'gf', unit);
  const shown = (value: number | undefined) => typed(value, unitDecimals(unit));
  const usual = known.map(
    (one, at) => [one.id, { operate: shown(forces[at]), travel: typed(limits.get(`class-${one.id}-travel`), 1) }] as const,
  );
  const own = await convert(
    packed.flatMap((one) => [one.start_gf, one.operate_gf]),
    'gf',
    unit,
  );
  return {
    kit: packed.map((one, at) => ({
      id: one.id,
      name: one.name,
      class: one.class,
      start: shown(own[2 * at]),
      operate: shown(own[2 * at + 1]),
      travel: typed(one.travel_mm, 1),
    })),
    start: shown(start),
    operate: shown(operate),
    switchPress: shown(press),
    powerPress: shown(power),
    modePress: shown(mode),
    stopPress: shown(stop),
    usual: new Map(usual),
  };
}

/** A class with the range of force that it stands for, for the list. Real controls differ within it. */
export function classText(one: ClassFacts, limits: ReadonlyMap<string, number>): string {
  const light = limits.get('light-control');
  const heavy = limits.get('rough-heavy');
  if (light === undefined || heavy === undefined) return one.text;
  const range: Readonly<Record<string, string>> = {
    standard: `More than ${heavy} gf to full command.`,
    small: `More than ${light} and up to ${heavy} gf.`,
    'very-light': `Up to ${light} gf.`,
  };
  return [range[one.id], one.text].filter((part) => part !== undefined).join(' ');
}

/** Takes a control of the kit with all its own figures. */
export function chooseFromKit(form: SetupForm, one: KitChoice): SetupForm {
  return { ...form, class: one.class, control: one.name, start: one.start, operate: one.operate, travel: one.travel };
}

/** The form of what was chosen last, or an empty one. */
export function formOf(setup: SetupChosen | undefined, figures: SetupFigures): SetupForm {
  return {
    class: setup?.class ?? '',
    control: setup?.control ?? '',
    site: setup?.site ?? '',
    start: figures.start,
    operate: figures.operate,
    travel: setup === undefined || setup.travel_mm === 0 ? '' : String(setup.travel_mm),
    throw: Object.fromEntries(directions.map((direction) => [direction, String(setup?.throw?.[direction] ?? 100)])),
    needed: setup?.needed ?? directions,
    switchPress: figures.switchPress,
    powerPress: figures.powerPress,
    modePress: figures.modePress,
    stopPress: figures.stopPress,
    driveMode: setup?.drive_mode ?? '',
    separateStop: setup?.separate_stop ?? false,
    breath: typed(setup?.breath_kpa, 1),
    place: setup?.place ?? '',
    window: setup?.window ?? '',
  };
}

/** Chooses a class; its usual figures fill fields that are still empty or held another class's figures. */
export function chooseClass(form: SetupForm, id: string, usual: SetupFigures['usual']): SetupForm {
  const before = usual.get(form.class);
  const next = usual.get(id);
  const fill = (field: 'operate' | 'travel') =>
    form[field] === '' || form[field] === before?.[field] ? (next?.[field] ?? '') : form[field];
  return { ...form, class: id, operate: fill('operate'), travel: fill('travel') };
}

export type SetupErrors = Readonly<Partial<Record<keyof SetupForm, string>>>;

type NumberField = 'start' | 'operate' | PressField | 'travel';
type PressField = 'switchPress' | 'powerPress' | 'modePress' | 'stopPress';

const measuredAs: Readonly<Record<NumberField, string>> = {
  start: 'force',
  operate: 'force',
  switchPress: 'switch-press',
  powerPress: 'switch-press',
  modePress: 'switch-press',
  stopPress: 'switch-press',
  travel: 'travel',
};

const PRESSES: readonly PressField[] = ['switchPress', 'powerPress', 'modePress', 'stopPress'];

interface Read {
  readonly value: number;
  readonly error?: string;
}

/** A number that may stay blank, which is 0: not known, or none. The engine says what is possible. */
async function readOpen(form: SetupForm, field: NumberField, unit: ForceUnit, ask: Judge): Promise<Read> {
  const read = readNumber(form[field], field === 'travel' ? 1 : unitDecimals(unit));
  if (read.kind === 'blank') return { value: 0 };
  if (read.kind === 'wrong') return { value: 0, error: read.message };
  if (form.site === '') return { value: read.value };
  const asked = { what: measuredAs[field], site: form.site, value: read.value, unit: field === 'travel' ? 'mm' : unit };
  const judged = await ask.plausible(asked);
  return judged.verdict === 'refuse' ? { value: 0, error: sentenceOf(judged.message) } : { value: read.value };
}

/** The pressure that a breath control asks for, in kPa; blank is not known. */
function readBreath(form: SetupForm): Read {
  const read = readNumber(form.breath, 1);
  if (read.kind === 'blank') return { value: 0 };
  if (read.kind === 'wrong') return { value: 0, error: read.message };
  const { high } = ranges['setup-chosen'].breath_kpa;
  return read.value > high ? { value: 0, error: `Expected 0 to ${high} kPa, got ${read.value}.` } : { value: read.value };
}

function throwsOf(form: SetupForm): Record<string, number> {
  return Object.fromEntries(
    Object.entries(form.throw)
      .map(([direction, percent]) => [direction, Number(percent)] as const)
      .filter(([, percent]) => percent !== 100),
  );
}

/** What is to be saved, or what is wrong, field by field. */
export async function readSetup(
  form: SetupForm,
  unit: ForceUnit,
  ask: Judge,
): Promise<{ readonly setup: SetupChosen } | { readonly errors: SetupErrors }> {
  const [start, operate, travel, ...presses] = (await Promise.all(
    (['start', 'operate', 'travel', ...PRESSES] as const).map((field) => readOpen(form, field, unit, ask)),
  )) as [Read, Read, Read, ...Read[]];
  const errors: Record<string, string> = {};
  if (form.class === '') errors.class = 'Expected one kind of control, got none.';
  if (form.site === '') errors.site = 'Expected a body site, got none.';
  if (form.needed.length === 0) errors.needed = 'Expected at least one direction, got none.';
  if (start.error) errors.start = start.error;
  if (operate.error) errors.operate = operate.error;
  PRESSES.forEach((field, at) => {
    const wrong = presses[at]?.error;
    if (wrong) errors[field] = wrong;
  });
  if (travel.error) errors.travel = travel.error;
  if (!start.error && !operate.error && operate.value > 0 && start.value > operate.value) {
    errors.start = `Expected at most the force for full command, ${operate.value} ${unit}, got ${start.value}.`;
  }
  const breath = readBreath(form);
  if (breath.error) errors.breath = breath.error;
  if (Object.keys(errors).length > 0) return { errors };
  const [startGf = 0, operateGf = 0, pressGf = 0, powerGf = 0, modeGf = 0, stopGf = 0] = await ask.convert(
    [start, operate, ...presses].map((read) => read.value),
    unit,
    'gf',
  );
  const throws = throwsOf(form);
  const text = (value: string) => value.trim();
  return {
    setup: {
      class: form.class,
      ...(text(form.control) === '' ? {} : { control: text(form.control) }),
      site: form.site,
      start_gf: startGf,
      operate_gf: operateGf,
      travel_mm: travel.value,
      ...(Object.keys(throws).length === 0 ? {} : { throw: throws }),
      needed: directions.filter((direction) => form.needed.includes(direction)),
      ...(pressGf === 0 ? {} : { switch_press_gf: pressGf }),
      ...(powerGf === 0 ? {} : { power_press_gf: powerGf }),
      ...(modeGf === 0 ? {} : { mode_press_gf: modeGf }),
      ...(stopGf === 0 ? {} : { stop_press_gf: stopGf }),
      ...(form.driveMode === '' ? {} : { drive_mode: form.driveMode }),
      ...(form.separateStop ? { separate_stop: true } : {}),
      ...(breath.value === 0 ? {} : { breath_kpa: breath.value }),
      ...(text(form.place) === '' ? {} : { place: text(form.place) }),
      ...(text(form.window) === '' ? {} : { window: text(form.window) }),
    },
  };
}
