/** A control of the kit as it is typed, and what is wrong with it. */
import { figureField, readFigures, typedOf, type FigureField, type Typed } from '../../ui/figures';
import { isDate } from '../../lib/dates';
import type { Control, ControlListed } from '../../lib/model.gen';

export interface ControlForm {
  readonly name: string;
  readonly class: string;
  /** By the field's key in a record. */
  readonly figures: Typed;
  readonly sealing: string;
  readonly powerJack: boolean;
  readonly modeJack: boolean;
  readonly connector: string;
  readonly attendant: boolean;
  readonly mounts: readonly string[];
  readonly measured: string;
  readonly measuredBy: string;
}

export const EMPTY_CONTROL: ControlForm = {
  name: '',
  class: '',
  figures: {},
  sealing: '',
  powerJack: false,
  modeJack: false,
  connector: '',
  attendant: false,
  mounts: [],
  measured: '',
  measuredBy: '',
};

type FigureKey = 'start_gf' | 'operate_gf' | 'travel_mm' | 'lever_mm' | 'weight_g';

/** What a control asks for. */
export const asked = [
  figureField('control-listed', 'start_gf', 'Force that starts the chair', { decimals: 1 }),
  figureField('control-listed', 'operate_gf', 'Force for full command', { decimals: 1 }),
  figureField('control-listed', 'travel_mm', 'Travel to full command', { decimals: 1 }),
];
/** No longer asked, as forces are measured at the knob; what was listed earlier is listed again. */
const kept = [figureField('control-listed', 'lever_mm', 'Length of the lever', { decimals: 1 })];
export const weights = [figureField('control-listed', 'weight_g', 'Weight')];
const figures: readonly FigureField<FigureKey>[] = [...asked, ...kept, ...weights];

export function formOfControl(control: Control): ControlForm {
  return {
    name: control.name,
    class: control.class,
    figures: typedOf(figures, control),
    sealing: control.sealing ?? '',
    powerJack: control.power_jack,
    modeJack: control.mode_jack,
    connector: control.connector ?? '',
    attendant: control.attendant,
    mounts: control.mounts ?? [],
    measured: control.measured ?? '',
    measuredBy: control.measured_by ?? '',
  };
}

/** By field, and by the key of a figure. */
export type ControlErrors = Typed;

/** A code of IEC 60529: IP, a digit or X for dust, a digit or X for water, letters after that. */
const sealing = /^IP[0-6X][0-9X][A-Z]{0,2}$/;

/** The control to be listed, or what is wrong, field by field. */
export function readControl(form: ControlForm, team: string): { readonly control: ControlListed } | { readonly errors: ControlErrors } {
  const { values, errors: wrong } = readFigures(figures, form.figures);
  const errors: Record<string, string> = { ...wrong };
  const { start_gf, operate_gf, travel_mm, lever_mm, weight_g } = values;
  const code = form.sealing.trim().toUpperCase().replaceAll(' ', '');
  if (form.name.trim() === '') errors['name'] = 'Expected the team’s own name for it, got none.';
  if (form.class === '') errors['class'] = 'Expected one kind of control, got none.';
  if (operate_gf > 0 && start_gf > operate_gf)
    errors['start_gf'] = `Expected at most the force for full command, ${operate_gf} gf, got ${start_gf}.`;
  if (code !== '' && !sealing.test(code))
    errors['sealing'] = `Expected a code of IEC 60529 such as IP54 or IPX4, got “${form.sealing.trim()}”.`;
  if (form.measured !== '' && !isDate(form.measured)) errors['measured'] = `Expected a day that exists, got “${form.measured}”.`;
  if (Object.keys(errors).length > 0) return { errors };
  return {
    control: {
      team,
      name: form.name.trim(),
      class: form.class,
      start_gf,
      operate_gf,
      travel_mm,
      ...(lever_mm > 0 ? { lever_mm } : {}),
      ...(code === '' ? {} : { sealing: code }),
      power_jack: form.powerJack,
      mode_jack: form.modeJack,
      ...text('connector', form.connector),
      attendant: form.attendant,
      ...(weight_g > 0 ? { weight_g } : {}),
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
export function chooseControlClass(
  form: ControlForm,
  id: string,
  usual: (classId: string) => { readonly operate: string; readonly travel: string },
): ControlForm {
  const [before, next] = [usual(form.class), usual(id)];
  const fill = (key: FigureKey, was: string, is: string) =>
    (form.figures[key] ?? '') === '' || form.figures[key] === was ? is : (form.figures[key] ?? '');
  return {
    ...form,
    class: id,
    figures: {
      ...form.figures,
      operate_gf: fill('operate_gf', before.operate, next.operate),
      travel_mm: fill('travel_mm', before.travel, next.travel),
    },
  };
}
