/** How and where the person will drive: the questions in plain words. */
import type { Choice } from '.';
import type { Needs, NeedsNoted, Visit } from '../lib/model.gen';
import { readNumber } from './pad-text';

type Truth = 'rough_ground' | 'helper_drives' | 'reverse_key' | 'blocked';
type Count =
  | 'hours_driving'
  | 'commands_per_min'
  | 'seconds_per_command'
  | 'wrist_deg'
  | 'wait_weeks'
  | 'task_share'
  | 'task_per_min'
  | 'task_seconds'
  | 'task_wrist_deg'
  | 'task_hours';

export interface TruthQuestion {
  readonly field: Truth;
  readonly words: string;
  readonly hint: string;
}

export const TRUTHS: readonly TruthQuestion[] = [
  { field: 'rough_ground', words: 'Is rough ground on a route that is needed?', hint: 'Gravel, grass, broken paving, kerbs.' },
  {
    field: 'helper_drives',
    words: 'Will a helper drive with this same control?',
    hint: 'A helper with a control of their own counts as no.',
  },
  {
    field: 'reverse_key',
    words: 'Was a key for reverse shown to work?',
    hint: 'One that turns forward into reverse. With it, reverse need not be pushed.',
  },
  {
    field: 'blocked',
    words: 'Are hand and forearm held so that only the driving part moves?',
    hint: 'For a finger or thumb that drives on rough ground.',
  },
];

export interface CountQuestion {
  readonly field: Count;
  readonly words: string;
  readonly unit: string;
  readonly hint: string;
  readonly low: number;
  readonly high: number;
  readonly decimals: number;
}

/** Ranges are those that records take. */
export const COUNTS: readonly CountQuestion[] = [
  {
    field: 'hours_driving',
    words: 'Hours of driving on a usual day',
    unit: 'h',
    hint: 'Time with a hand on the control, not time in the chair.',
    low: 0,
    high: 24,
    decimals: 1,
  },
  {
    field: 'commands_per_min',
    words: 'Commands while driving',
    unit: 'a minute',
    hint: 'Count for two usual minutes and halve.',
    low: 0,
    high: 120,
    decimals: 1,
  },
  {
    field: 'seconds_per_command',
    words: 'Seconds that one command lasts',
    unit: 's',
    hint: 'From push to release, on a usual stretch.',
    low: 0,
    high: 60,
    decimals: 1,
  },
  {
    field: 'wrist_deg',
    words: 'Wrist while driving',
    unit: '°',
    hint: 'Bent towards the palm is plus, towards the back of the hand is minus, straight is 0.',
    low: -90,
    high: 90,
    decimals: 0,
  },
  {
    field: 'wait_weeks',
    words: 'Expected wait until delivery',
    unit: 'weeks',
    hint: 'So that the choice still fits when it arrives.',
    low: 0,
    high: 260,
    decimals: 0,
  },
];

/** Another task of the hand that drives; it adds to the strain of driving. */
export const TASK: readonly CountQuestion[] = [
  {
    field: 'task_share',
    words: 'Strength that it asks',
    unit: '%',
    hint: 'Part of the most that this hand can give, as the person puts it or the gauge shows.',
    low: 1,
    high: 100,
    decimals: 0,
  },
  {
    field: 'task_per_min',
    words: 'Pressings of it',
    unit: 'a minute',
    hint: 'Count for two usual minutes and halve.',
    low: 0,
    high: 120,
    decimals: 1,
  },
  { field: 'task_seconds', words: 'Seconds that one pressing lasts', unit: 's', hint: '', low: 0, high: 60, decimals: 1 },
  {
    field: 'task_wrist_deg',
    words: 'Wrist meanwhile',
    unit: '°',
    hint: 'Towards the palm is plus, towards the back of the hand is minus.',
    low: -90,
    high: 90,
    decimals: 0,
  },
  {
    field: 'task_hours',
    words: 'Hours a day of its own',
    unit: 'h',
    hint: 'Blank when it is done while driving.',
    low: 0,
    high: 24,
    decimals: 1,
  },
];

export const BASES: readonly Choice[] = [
  { value: 'stable', label: 'Stable', text: 'Person and mount stay where they are.' },
  { value: 'adjustable', label: 'Adjustable today', text: 'Something gives, and can be put right in this visit.' },
  { value: 'moves', label: 'Moves', text: 'Fix this first: no control can be judged on it.' },
];

export const MOISTURES: readonly Choice[] = [
  { value: 'dry', label: 'Dry' },
  { value: 'damp', label: 'Damp' },
  { value: 'wet', label: 'Wet' },
];

/** The number to be saved, null for blank, or what was expected. */
export function readCount(question: CountQuestion, text: string): { readonly value: number | null } | { readonly error: string } {
  const read = readNumber(text, question.decimals, question.low < 0);
  if (read.kind === 'blank') return { value: null };
  if (read.kind === 'wrong') return { error: read.message };
  if (read.value < question.low || read.value > question.high) {
    return { error: `Expected ${question.low} to ${question.high} ${question.unit}, got ${read.value}.` };
  }
  return { value: read.value };
}

/** Sites that something can be said about: chosen, measured, or spoken of already. */
export function sitesSpokenOf(visit: Visit): readonly string[] {
  const { needs } = visit;
  const all = [
    ...(visit.setup ? [visit.setup.site] : []),
    ...visit.readings.filter((one) => !one.slip).map((one) => one.site),
    ...Object.keys(needs?.moisture ?? {}),
    ...Object.keys(needs?.rejected ?? {}),
    ...(needs?.wish_site ? [needs.wish_site] : []),
  ];
  return [...new Set(all.filter((site) => site !== '' && site !== '-'))];
}

/** How many of the questions have an answer; for the visit map. */
export function needsAnswered(needs: Needs | undefined): { readonly done: number; readonly of: number } {
  const fields: readonly (keyof NeedsNoted)[] = [
    ...TRUTHS.map((one) => one.field),
    ...COUNTS.map((one) => one.field),
    'base',
    'course',
    'wish_site',
    'wish_control',
    'moisture',
  ];
  return { done: fields.filter((field) => needs?.[field] !== undefined && needs[field] !== '').length, of: fields.length };
}

/** How a condition changes over time. */
export const COURSES = ['stable', 'slow', 'fast', 'fluctuating', 'improving'] as const;

export const COURSE_WORDS: Readonly<Record<(typeof COURSES)[number], string>> = {
  stable: 'stable',
  slow: 'getting weaker slowly',
  fast: 'getting weaker fast',
  fluctuating: 'up and down',
  improving: 'getting stronger',
};
