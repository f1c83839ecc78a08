/** What a new client's form must hold, checked before anything is written. */
import { COURSE_WORDS } from '../../ui/needs';
import { isDate } from '../../lib/dates';
import { courses, lengths, priorities } from '../../lib/model.gen';
import * as v from '../../lib/schema';

export interface ClientDraft {
  readonly team: string;
  readonly name: string;
  readonly ref: string;
  readonly born: string;
  readonly referred: string;
  readonly priority: string;
  readonly course: string;
  readonly reason: string;
  readonly visiting: string;
}

export type ClientField = keyof ClientDraft;

export interface FieldProblem {
  readonly field: ClientField;
  /** Names the field and says what is expected. */
  readonly message: string;
}

export const FIELD_LABELS: Readonly<Record<ClientField, string>> = {
  team: 'Team',
  name: 'Name',
  ref: 'Service number',
  born: 'Date of birth',
  referred: 'Date of referral',
  priority: 'Priority',
  course: 'Course',
  reason: 'Reason for referral',
  visiting: 'What the visitor must know',
};

const longest = lengths['client-opened'];

export function emptyDraft(team: string, today: string): ClientDraft {
  return { team, name: '', ref: '', born: '', referred: today, priority: 'routine', course: '', reason: '', visiting: '' };
}

const clientDraft = v.object({
  team: v.string,
  name: v.string,
  ref: v.string,
  born: v.string,
  referred: v.string,
  priority: v.string,
  course: v.string,
  reason: v.string,
  visiting: v.string,
});

/** A draft as it was kept; null when there is none, or it is of a team that the person is not in any more. */
export function readDraft(kept: unknown, teams: readonly string[]): ClientDraft | null {
  const draft = v.tryParse(clientDraft, kept) ?? null;
  return draft !== null && teams.includes(draft.team) ? draft : null;
}

/** Every problem of the draft, in the order of the fields on screen. */
export function problemsOf(draft: ClientDraft, today: string): readonly FieldProblem[] {
  const found: (FieldProblem | null)[] = [
    need(draft, 'team', 'choose the team that looks after the client'),
    need(draft, 'name', 'write the client’s name as your service writes it'),
    atMost(draft, 'name', longest.name),
    atMost(draft, 'ref', longest.ref),
    draft.born === '' ? null : date(draft, 'born', today),
    need(draft, 'referred', 'choose the day when the referral arrived') ?? date(draft, 'referred', today),
    oneOf(draft, 'priority', priorities, priorities),
    oneOf(draft, 'course', courses, Object.values(COURSE_WORDS)),
    atMost(draft, 'reason', longest.reason),
    atMost(draft, 'visiting', longest.visiting),
  ];
  return found.filter((problem) => problem !== null);
}

function say(field: ClientField, what: string): FieldProblem {
  return { field, message: `${FIELD_LABELS[field]}: ${what}.` };
}

function need(draft: ClientDraft, field: ClientField, what: string): FieldProblem | null {
  return draft[field].trim() === '' ? say(field, what) : null;
}

function atMost(draft: ClientDraft, field: ClientField, most: number): FieldProblem | null {
  const length = [...draft[field]].length;
  return length > most ? say(field, `expected at most ${most} characters, got ${length}`) : null;
}

function oneOf(draft: ClientDraft, field: ClientField, allowed: readonly string[], words: readonly string[]): FieldProblem | null {
  return allowed.includes(draft[field]) ? null : say(field, `choose one of ${words.join(', ')}`);
}

function date(draft: ClientDraft, field: 'born' | 'referred', today: string): FieldProblem | null {
  const value = draft[field];
  if (!isDate(value)) return say(field, `expected a day that exists, such as ${today}, got “${value}”`);
  if (value > today) return say(field, `expected today or earlier, got ${value}`);
  if (value < '1900-01-01') return say(field, `expected 1900 or later, got ${value}`);
  return null;
}

/** The body of the client-opened event: empty optional fields are left out. */
export function bodyOf(draft: ClientDraft): Readonly<Record<string, string>> {
  const trimmed = Object.entries(draft).map(([field, value]) => [field, value.trim()] as const);
  return Object.fromEntries(trimmed.filter(([, value]) => value !== ''));
}

/** The fields that differ from what stands, for a client-changed event. */
export function changesOf(draft: ClientDraft, standing: ClientDraft): Readonly<Record<string, string>> {
  const fields = Object.keys(draft).filter((field) => field !== 'team') as ClientField[];
  return Object.fromEntries(fields.filter((field) => draft[field].trim() !== standing[field]).map((field) => [field, draft[field].trim()]));
}
