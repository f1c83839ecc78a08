import {
  answerStates,
  controlClasses,
  drives,
  fixedTo,
  levels,
  mountKinds,
  outcomes,
  readingKinds,
  settingKeys,
  type Kind,
} from '../model.gen';

/**
 * The fields of every kind of body: what the fold reads, and in what type. A
 * name with "?" is left out when it is empty, one with "??" only when it was
 * not given (0 and false mean something there), as the server leaves it out.
 * A list of words allows only those; `each` is a list of objects.
 */
type FieldType = 'text' | 'number' | 'flag' | 'list' | 'table' | 'any' | readonly string[] | { readonly each: Fields };
interface Fields {
  readonly [field: string]: FieldType;
}

const conditions = ['rested', 'tired'] as const;

const answer: Fields = {
  item: 'text',
  state: answerStates,
  'level?': 'text',
  'number??': 'number',
  'left??': 'number',
  'right??': 'number',
  'facts?': 'table',
  'reason?': 'text',
  'note?': 'text',
};

const figures: Fields = {
  name: 'text',
  class: controlClasses,
  start_gf: 'number',
  operate_gf: 'number',
  travel_mm: 'number',
  'lever_mm?': 'number',
  'sealing?': 'text',
  power_jack: 'flag',
  mode_jack: 'flag',
};

const shapes: Readonly<Record<Kind, Fields>> = {
  'client-opened': {
    team: 'text',
    ref: 'text',
    name: 'text',
    'born?': 'text',
    referred: 'text',
    priority: 'text',
    course: 'text',
    'reason?': 'text',
    'visiting?': 'text',
  },
  'client-changed': { fields: 'table' },
  'client-assigned': { assignee: 'text', status: 'text', version: 'number', by: 'text' },
  'visit-started': { client: 'text', team: 'text', checklist: 'table', unit: 'text', 'second_of?': 'text' },
  'visit-noted': { fields: 'table' },
  'answer-given': answer,
  'answer-chosen': { item: 'text', keep: 'text', drop: 'list' },
  'reading-taken': {
    what: readingKinds,
    site: 'text',
    'direction?': 'text',
    'switch?': 'text',
    state: conditions,
    supported: 'flag',
    value: 'number',
    unit: 'text',
    'missed?': 'flag',
    'note?': 'text',
  },
  'reading-marked': { reading: 'text', slip: 'flag', 'reason?': 'text' },
  'run-timed': {
    'route?': 'text',
    place: ['indoors', 'outdoors', 'rough'],
    state: conditions,
    seconds: 'number',
    metres: 'number',
    things: 'number',
    people: 'number',
    prompts: 'number',
    rescues: 'number',
    unmeant: 'number',
    presses: 'number',
    'note?': 'text',
  },
  'run-marked': { run: 'text', slip: 'flag', 'reason?': 'text' },
  'setup-chosen': {
    class: 'text',
    'control?': 'text',
    site: 'text',
    start_gf: 'number',
    operate_gf: 'number',
    travel_mm: 'number',
    'throw?': 'table',
    needed: 'list',
    'switch_press_gf?': 'number',
    'power_press_gf?': 'number',
    'mode_press_gf?': 'number',
    'place?': 'text',
    'window?': 'text',
  },
  'plan-agreed': { 'recheck?': 'text', 'note?': 'text' },
  'override-made': {
    level: levels,
    reason: 'text',
    text: 'text',
    'mitigation?': 'text',
    'agreed?': 'text',
    from: 'text',
    'until?': 'text',
  },
  'visit-signed': { level: 'text', result: 'text', name: 'text' },
  'amendment-made': { reason: 'text', kind: 'text', change: 'any' },
  'control-listed': {
    ...figures,
    team: 'text',
    'connector?': 'text',
    attendant: 'flag',
    'weight_g?': 'number',
    'mounts?': 'list',
    'measured?': 'text',
    'measured_by?': 'text',
    'gone?': 'flag',
  },
  'kit-packed': { controls: { each: { ...figures, id: 'text', attendant: 'flag' } } },
  'needs-noted': {
    'rough_ground??': 'flag',
    'helper_drives??': 'flag',
    'reverse_key??': 'flag',
    'blocked??': 'flag',
    'hours_driving??': 'number',
    'commands_per_min??': 'number',
    'seconds_per_command??': 'number',
    'wrist_deg??': 'number',
    'wait_weeks??': 'number',
    'task_share??': 'number',
    'task_per_min??': 'number',
    'task_seconds??': 'number',
    'task_wrist_deg??': 'number',
    'task_hours??': 'number',
    'base?': 'text',
    'course?': 'text',
    'wish_site?': 'text',
    'wish_control?': 'text',
    'moisture?': 'table',
    'rejected?': 'table',
  },
  'needs-unset': { fields: 'list' },
  'chair-measured': {
    length_mm: 'number',
    width_mm: 'number',
    drive: drives,
    ahead_mm: 'number',
    clearance_mm: 'number',
    'slope_deg?': 'number',
    'chair_kg?': 'number',
    'person_kg?': 'number',
  },
  'place-measured': {
    place: 'text',
    kind: 'text',
    name: 'text',
    'width_mm?': 'number',
    'corridor_mm?': 'number',
    'corridor2_mm?': 'number',
    'rise_mm?': 'number',
    'run_mm?': 'number',
    'landing_mm?': 'number',
    'height_mm?': 'number',
    'limit_kg?': 'number',
    'gone?': 'flag',
  },
  'setting-changed': {
    key: settingKeys,
    'profile?': 'text',
    before: 'text',
    after: 'text',
    'unit?': 'text',
    'problem?': 'text',
    why: 'text',
    'result?': 'text',
    'firmware?': 'text',
    'word?': 'text',
  },
  'setting-tried': { setting: 'text', outcome: outcomes, 'note?': 'text' },
  'mount-noted': {
    kind: mountKinds,
    fixed_to: fixedTo,
    forward_mm: 'number',
    up_mm: 'number',
    side_mm: 'number',
    pitch_deg: 'number',
    roll_deg: 'number',
    yaw_deg: 'number',
    gap_mm: 'number',
    'clear_s?': 'number',
    index: 'flag',
    tilt: 'flag',
    recline: 'flag',
    transfer: 'flag',
    collision: 'flag',
    'note?': 'text',
  },
};

/** A body with the fields that its kind has, and no others. */
export type Body = Readonly<Record<string, unknown>>;

/** Whether this version of the app knows the kind. */
export function isKind(kind: string): kind is Kind {
  return Object.hasOwn(shapes, kind);
}

function isObject(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function isWords(type: FieldType): type is readonly string[] {
  return Array.isArray(type);
}

/** The value as the type has it; undefined when it is of another type. */
function fitted(value: unknown, type: FieldType): unknown {
  if (isWords(type)) return typeof value === 'string' && type.includes(value) ? value : undefined;
  if (typeof type !== 'string') return Array.isArray(value) ? eachOf(value, type.each) : undefined;
  return fits(value, type) ? value : undefined;
}

function eachOf(list: readonly unknown[], fields: Fields): readonly Body[] | undefined {
  const all = list.map((one) => (isObject(one) ? readFields(fields, one) : null));
  return all.every((one) => one !== null) ? all : undefined;
}

function fits(value: unknown, type: Extract<FieldType, string>): boolean {
  switch (type) {
    case 'text':
      return typeof value === 'string';
    case 'number':
      return typeof value === 'number' && Number.isFinite(value);
    case 'flag':
      return typeof value === 'boolean';
    case 'list':
      return Array.isArray(value);
    case 'table':
      return isObject(value);
    case 'any':
      return value !== undefined;
  }
}

const empties: Readonly<Record<Extract<FieldType, string>, unknown>> = { text: '', number: 0, flag: false, list: [], table: {}, any: null };

function isEmpty(value: unknown): boolean {
  if (value === '' || value === false || value === 0) return true;
  if (Array.isArray(value)) return value.length === 0;
  return isObject(value) && Object.keys(value).length === 0;
}

/**
 * Reads a body of a kind. Null means that this version of the app cannot read
 * it: the kind is newer, or a field has another type.
 */
export function readBody(kind: string, raw: unknown): Body | null {
  return isKind(kind) && isObject(raw) ? readFields(shapes[kind], raw) : null;
}

function readFields(fields: Fields, raw: Readonly<Record<string, unknown>>): Body | null {
  const body: Record<string, unknown> = {};
  for (const [spec, type] of Object.entries(fields)) {
    const name = spec.replace(/\?+$/, '');
    const optional = spec !== name;
    const given = raw[name];
    if (given === undefined || given === null) {
      if (optional) continue;
      if (typeof type !== 'string') return null;
      body[name] = empties[type];
      continue;
    }
    const value = fitted(given, type);
    if (value === undefined) return null;
    if (!optional || spec.endsWith('??') || !isEmpty(value)) body[name] = value;
  }
  return body;
}
