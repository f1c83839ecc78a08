import { answerStates, levels, readingKinds, type Kind } from '../model.gen';

/**
 * The fields of every kind of body: what the fold reads, and in what type. A
 * name with "?" is left out when it is empty, as the server leaves it out. A
 * list of words allows only those.
 */
type FieldType = 'text' | 'number' | 'flag' | 'list' | 'table' | 'any' | readonly string[];
type Fields = Readonly<Record<string, FieldType>>;

const conditions = ['rested', 'tired'] as const;

const answer: Fields = {
  item: 'text', state: answerStates, 'level?': 'text', 'number?': 'number', 'left?': 'number', 'right?': 'number',
  'facts?': 'table', 'reason?': 'text', 'note?': 'text',
};

const shapes: Readonly<Record<Kind, Fields>> = {
  'client-opened': {
    team: 'text', ref: 'text', name: 'text', 'born?': 'text', referred: 'text', priority: 'text', course: 'text',
    'reason?': 'text', 'visiting?': 'text',
  },
  'client-changed': { fields: 'table' },
  'client-assigned': { assignee: 'text', status: 'text', version: 'number', by: 'text' },
  'visit-started': { client: 'text', team: 'text', checklist: 'table', unit: 'text' },
  'visit-noted': { fields: 'table' },
  'answer-given': answer,
  'answer-chosen': { item: 'text', keep: 'text', drop: 'list' },
  'reading-taken': {
    what: readingKinds, site: 'text', 'direction?': 'text', state: conditions, supported: 'flag', value: 'number', unit: 'text',
    'missed?': 'flag', 'note?': 'text',
  },
  'reading-marked': { reading: 'text', slip: 'flag', 'reason?': 'text' },
  'run-timed': {
    'route?': 'text', place: ['indoors', 'outdoors', 'rough'], state: conditions, seconds: 'number', metres: 'number', things: 'number',
    people: 'number', prompts: 'number', rescues: 'number', unmeant: 'number', presses: 'number', 'note?': 'text',
  },
  'run-marked': { run: 'text', slip: 'flag', 'reason?': 'text' },
  'setup-chosen': {
    class: 'text', 'control?': 'text', site: 'text', start_gf: 'number', operate_gf: 'number', travel_mm: 'number',
    'throw?': 'table', needed: 'list', 'switch_press_gf?': 'number', 'place?': 'text', 'window?': 'text',
  },
  'plan-agreed': { 'recheck?': 'text', 'note?': 'text' },
  'override-made': {
    level: levels, reason: 'text', text: 'text', 'mitigation?': 'text', 'agreed?': 'text', from: 'text', 'until?': 'text',
  },
  'visit-signed': { level: 'text', result: 'text', name: 'text' },
  'amendment-made': { reason: 'text', kind: 'text', change: 'any' },
};

/** Numbers that mean something when they are 0, so that 0 is not "left out". */
const zeroCounts: ReadonlySet<string> = new Set(['number', 'left', 'right']);

/** A body with the fields that its kind has, and no others. */
export type Body = Readonly<Record<string, unknown>>;

function isKind(kind: string): kind is Kind {
  return Object.hasOwn(shapes, kind);
}

function isObject(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function fits(value: unknown, type: FieldType): boolean {
  if (typeof type !== 'string') return typeof value === 'string' && type.includes(value);
  switch (type) {
    case 'text': return typeof value === 'string';
    case 'number': return typeof value === 'number' && Number.isFinite(value);
    case 'flag': return typeof value === 'boolean';
    case 'list': return Array.isArray(value);
    case 'table': return isObject(value);
    case 'any': return value !== undefined;
  }
}

const empties: Readonly<Record<Extract<FieldType, string>, unknown>> = { text: '', number: 0, flag: false, list: [], table: {}, any: null };

function isEmpty(name: string, value: unknown): boolean {
  if (value === '' || value === false) return true;
  if (value === 0) return !zeroCounts.has(name);
  return isObject(value) && Object.keys(value).length === 0;
}

/**
 * Reads a body of a kind. Null means that this version of the app cannot read
 * it: the kind is newer, or a field has another type.
 */
export function readBody(kind: string, raw: unknown): Body | null {
  if (!isKind(kind) || !isObject(raw)) return null;
  const body: Record<string, unknown> = {};
  for (const [spec, type] of Object.entries(shapes[kind])) {
    const optional = spec.endsWith('?');
    const name = optional ? spec.slice(0, -1) : spec;
    const value = raw[name];
    if (value === undefined || value === null) {
      if (optional) continue;
      if (typeof type !== 'string') return null;
      body[name] = empties[type];
    } else if (!fits(value, type)) {
      return null;
    } else if (!optional || !isEmpty(name, value)) {
      body[name] = value;
    }
  }
  return body;
}
