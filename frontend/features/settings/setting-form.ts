import { readNumber } from '../../ui/pad-text';
import type { SettingChanged } from '../../lib/model.gen';

/** One change of one setting as it is being typed. */
export type SettingForm = Readonly<Record<keyof SettingChanged, string>>;

export const emptySetting: SettingForm = {
  key: '',
  profile: '',
  before: '',
  after: '',
  unit: '%',
  problem: '',
  why: '',
  result: '',
  firmware: '',
  word: '',
};

/** An empty form; profile and version are those of the last change. */
export function nextSetting(settings: readonly SettingChanged[]): SettingForm {
  const last = settings.at(-1);
  return { ...emptySetting, profile: last?.profile ?? '', firmware: last?.firmware ?? '' };
}

/** What a key is usually counted in. */
function usualUnit(key: string): string {
  if (key === 'axis_rotation' || key === 'sleep_on_tilt') return 'deg';
  if (key === 'standby_time') return 's';
  return key === 'tracking' || key === 'latched_drive' || key === 'active_directions' ? '' : '%';
}

/** Takes a key; what was the last value after a change is the one before the next. */
export function chooseKey(form: SettingForm, key: string, settings: readonly SettingChanged[]): SettingForm {
  const last = settings.findLast((one) => one.key === key && (one.profile ?? '') === form.profile);
  return {
    ...form,
    key,
    unit: last?.unit ?? (last ? '' : usualUnit(key)),
    before: last?.after ?? '',
    after: '',
    word: last?.word ?? form.word,
  };
}

function rangeOf(key: string, unit: string): readonly [number, number] | null {
  if (unit === 'deg') return [0, 359];
  if (unit === 's') return [0, 3600];
  if (unit !== '%') return null;
  if (key === 'dead_zone') return [0, 50];
  return key.startsWith('throw_') ? [20, 100] : [0, 100];
}

function valueError(form: SettingForm, text: string): string {
  if (text.trim() === '') return 'Expected a value, got nothing.';
  const range = rangeOf(form.key, form.unit);
  const read = readNumber(text, 2);
  if (range === null || read.kind !== 'number') return '';
  return read.value < range[0] || read.value > range[1] ? `Expected ${range[0]} to ${range[1]} ${form.unit}, got ${text.trim()}.` : '';
}

export type SettingErrors = Readonly<Partial<Record<keyof SettingForm, string>>>;
export type ReadSetting = { readonly setting: SettingChanged } | { readonly errors: SettingErrors };

/** What is to be saved, or what is wrong, field by field. */
export function readSetting(form: SettingForm): ReadSetting {
  const errors: Record<string, string> = {};
  if (form.key === '') errors.key = 'Expected one setting, got none.';
  for (const field of ['before', 'after'] as const) {
    const wrong = valueError(form, form[field]);
    if (wrong !== '') errors[field] = wrong;
  }
  if (!errors.after && form.before.trim() === form.after.trim()) errors.after = 'Expected another value than before.';
  if (form.why.trim() === '') errors.why = 'Expected the reason, got nothing.';
  if (Object.keys(errors).length > 0) return { errors };
  const said = Object.entries(form)
    .map(([field, text]) => [field, text.trim()] as const)
    .filter(([, text]) => text !== '');
  return { setting: Object.fromEntries(said) as unknown as SettingChanged };
}
