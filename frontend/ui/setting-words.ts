/** The words for setting keys and for what is observed. Makers have their own; the ids are neutral. */
import { outcomes, type Outcome, type Setting, type Problem, type SettingKey } from '../lib/model.gen';

export const keyWords: Readonly<Record<SettingKey, string>> = {
  fwd_speed_max: 'Top speed forward',
  rev_speed_max: 'Top speed in reverse',
  turn_speed: 'Top turning speed',
  accel: 'Acceleration',
  decel: 'Braking',
  turn_accel: 'Start of a turn',
  turn_decel: 'End of a turn',
  min_speed: 'Speed at the first command',
  power: 'Push at low speed',
  tremor_damping: 'Tremor damping',
  dead_zone: 'Dead zone about the middle',
  throw_forward: 'Way to full command, forward',
  throw_reverse: 'Way to full command, reverse',
  throw_left: 'Way to full command, left',
  throw_right: 'Way to full command, right',
  axis_rotation: 'Turn of the axes',
  active_directions: 'Directions in use',
  latched_drive: 'Driving on without holding',
  standby_time: 'Turns off after',
  sleep_on_tilt: 'No driving beyond a tilt of',
  attendant_speed: 'Helper’s top speed',
  tracking: 'Straight-line aid',
};

export const problemWords: Readonly<Record<Problem, string>> = {
  'overshoots-turns': 'Turns too far',
  contacts: 'Touches things or people',
  'stalls-on-sill': 'Stalls on a sill',
  'head-thrown-back': 'Head or trunk thrown back at the start',
  'trunk-falls-on-stop': 'Trunk or head falls forward at the stop',
  'long-stop': 'Rolls on too long after the release',
  'jerky-turns': 'Jerky turns',
  'wobble-on-straight': 'Wobbles on a straight line',
  lurch: 'Lurches at the first command',
  'stuck-on-carpet': 'Stuck on carpet',
  'tremor-path': 'Shaky path from tremor',
  'late-stop': 'Answers late, also to the stop',
  creeps: 'Creeps without a command',
  'unintended-starts': 'Starts without meaning to',
  'short-travel': 'Does not reach full command',
  'weak-direction': 'One direction is weak',
  'arm-lies-turned': 'The arm lies turned',
  'weak-reverse': 'Reverse is weak',
  'drifts-on-camber': 'Drifts on a cross slope',
  'helper-dragged': 'The helper is dragged along',
};

export function keyLabel(key: string): string {
  return Object.hasOwn(keyWords, key) ? keyWords[key as SettingKey] : key;
}

export function problemLabel(problem: string): string {
  return Object.hasOwn(problemWords, problem) ? problemWords[problem as Problem] : problem;
}

/** Options of a list, in the order of the words. */
export function optionsOf(
  words: Readonly<Record<string, string>>,
  none: string,
): readonly { readonly value: string; readonly label: string }[] {
  return [{ value: '', label: none }, ...Object.entries(words).map(([value, label]) => ({ value, label }))];
}

/** Units that makers count in; empty is for words such as "on". */
export const units = [
  { value: '%', label: '%' },
  { value: 'step', label: 'steps' },
  { value: 'km/h', label: 'km/h' },
  { value: 'deg', label: 'degrees' },
  { value: 's', label: 'seconds' },
  { value: '', label: 'a word' },
];

/** A value with its unit. */
export function valueWords(value: string, unit: string | undefined): string {
  return unit ? `${value} ${units.find((one) => one.value === unit)?.label ?? unit}` : value;
}

export const OUTCOME_WORDS: Readonly<Record<Outcome, string>> = { better: 'Better', same: 'The same', worse: 'Worse' };

/** How a change went, in words; empty while nobody said. */
export function triedWords(setting: Setting): string {
  const outcome = outcomes.find((one) => one === setting.tried?.outcome);
  return [outcome ? OUTCOME_WORDS[outcome] : '', setting.tried?.note ?? '', setting.result ?? ''].filter((part) => part !== '').join('. ');
}
