/** A control of the kit as it is typed, and what is wrong with it. */
import type { Control, ControlListed } from '../model.gen';
import { readNumber } from '../parts/pad-text';
import { isDate } from '../clients/client-form';

export interface ControlForm {
  readonly name: string;
  readonly class: string;
  readonly start: string;
  readonly operate: string;
  readonly travel: string;
  readonly lever: string;
  readonly sealing: string;
  readonly powerJack: boolean;
  readonly modeJack: boolean;
  readonly connector: string;
  readonly attendant: boolean;
  readonly weight: string;
  readonly mounts: readonly string[];
  readonly measured: string;
  readonly measuredBy: string;
}

export const EMPTY_CONTROL: ControlForm = {
  name: '', class: '', start: '', operate: '', travel: '', lever: '', sealing: '', powerJack: false, modeJack: false,
  connector: '', attendant: false, weight: '', mounts: [], measured: '', measuredBy: '',
};

function typed(value: number | undefined): string {
  return value === undefined || value === 0 ? '' : String(value);
}

export function formOfControl(control: Control): ControlForm {
  return {
    name: control.name, class: control.class,
    start: typed(control.start_gf), operate: typed(control.operate_gf), travel: typed(control.travel_mm), lever: typed(control.lever_mm),
    sealing: control.sealing ?? '', powerJack: control.power_jack, modeJack: control.mode_jack, connector: control.connector ?? '',
    attendant: control.attendant, weight: typed(control.weight_g), mounts: control.mounts ?? [],
    measured: control.measured ?? '', measuredBy: control.measured_by ?? '',
  };
}

export type ControlErrors = Readonly<Partial<Record<keyof ControlForm, string>>>;

type NumberField = 'start' | 'operate' | 'travel' | 'lever' | 'weight';

/** What records take at most, with the digits after the point. */
const numbers: Readonly<Record<NumberField, { readonly most: number; readonly unit: string; readonly decimals: number }>> = {
  start: { most: 10_000, unit: 'gf', decimals: 1 },
  operate: { most: 10_000, unit: 'gf', decimals: 1 },
  travel: { most: 150, unit: 'mm', decimals: 1 },
  lever: { most: 500, unit: 'mm', decimals: 1 },
  weight: { most: 20_000, unit: 'g', decimals: 0 },
};

/** A code of IEC 60529: IP, a digit or X for dust, a digit or X for water, letters after that. */
const sealing = /^IP[0-6X][0-9X][A-Z]{0,2}$/;

/** The control to be listed, or what is wrong, field by field. */
export function readControl(form: ControlForm, team: string): { readonly control: ControlListed } | { readonly errors: ControlErrors } {
  const errors: Record<string, string> = {};
  const value = (field: NumberField): number => {
    const { most, unit, decimals } = numbers[field];
    const read = readNumber(form[field], decimals);
    if (read.kind === 'blank') return 0;
    if (read.kind === 'wrong') errors[field] = read.message;
    else if (read.value > most) errors[field] = `Expected at most ${most} ${unit}, got ${read.value}.`;
    return read.kind === 'number' ? read.value : 0;
  };
  const [start, operate, travel, lever, weight] = [value('start'), value('operate'), value('travel'), value('lever'), value('weight')];
  const code = form.sealing.trim().toUpperCase().replaceAll(' ', '');
  if (form.name.trim() === '') errors['name'] = 'Expected the team’s own name for it, got none.';
  if (form.class === '') errors['class'] = 'Expected one kind of control, got none.';
  if (operate > 0 && start > operate) errors['start'] = `Expected at most the force for full command, ${operate} gf, got ${start}.`;
  if (code !== '' && !sealing.test(code)) errors['sealing'] = `Expected a code of IEC 60529 such as IP54 or IPX4, got “${form.sealing.trim()}”.`;
  if (form.measured !== '' && !isDate(form.measured)) errors['measured'] = `Expected a day that exists, got “${form.measured}”.`;
  if (Object.keys(errors).length > 0) return { errors };
  return {
    control: {
      team, name: form.name.trim(), class: form.class, start_gf: start, operate_gf: operate, travel_mm: travel,
      ...(lever > 0 ? { lever_mm: lever } : {}),
      ...(code === '' ? {} : { sealing: code }),
      power_jack: form.powerJack, mode_jack: form.modeJack,
      ...text('connector', form.connector),
      attendant: form.attendant,
      ...(weight > 0 ? { weight_g: weight } : {}),
      ...(form.mounts.length > 0 ? { mounts: form.mounts } : {}),
      ...text('measured', form.measured),
      ...text('measured_by', form.measuredBy),
    },
  };
}

function text<K extends string>(key: K, value: string): Partial<Record<K, string>> {
  const said = value.trim();
  return said === '' ? {} : ({ [key]: said } as Partial<Record<K, string>>);
}

/** Chooses a class; the class's usual figures fill what is empty or held another class's. */
export function chooseControlClass(form: ControlForm, id: string, usual: (classId: string) => { readonly operate: string; readonly travel: string }): ControlForm {
  const [before, next] = [usual(form.class), usual(id)];
  const fill = (field: 'operate' | 'travel') => (form[field] === '' || form[field] === before[field] ? next[field] : form[field]);
  return { ...form, class: id, operate: fill('operate'), travel: fill('travel') };
}
