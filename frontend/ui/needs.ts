/** How and where the person will drive: the questions in plain words. */
import type { Choice } from '.';
import { ranges, type Course, type Needs, type NeedsNoted, type Visit } from '../lib/model.gen';
import { readNumber } from './pad-text';

type Fields = Required<NeedsNoted>;
/** Needs that are yes or no. */
type YesNo = { [Field in keyof Fields]: Fields[Field] extends boolean ? Field : never }[keyof Fields];
/** Needs that are a number: those with a range. */
type NumberField = keyof (typeof ranges)['needs-noted'];

export interface YesNoQuestion {
  readonly field: YesNo;
  readonly words: string;
  readonly hint: string;
}

export const YES_NO: readonly YesNoQuestion[] = [
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
  { field: 'breath_leak', words: 'Does air escape beside the tube?', hint: 'For breath control: at lips or nose.' },
  {
    field: 'tracheostomy',
    words: 'Does the person breathe through an opening in the throat?',
    hint: 'For breath control: the breath at the mouth then changes with cuff, valve and ventilator.',
  },
];

export interface CountQuestion {
  readonly field: NumberField;
  readonly words: string;
  readonly unit: string;
  readonly hint: string;
  readonly low: number;
  readonly high: number;
  readonly decimals: number;
  /** What is often said, to be tapped. */
  readonly often?: readonly string[];
}

function countQuestion(field: NumberField, words: string, unit: string, hint: string, decimals: number): CountQuestion {
  const { low, high } = ranges['needs-noted'][field];
  return { field, words, unit, hint, low, high, decimals };
}

/** Ranges are those that records take. */
export const COUNTS: readonly CountQuestion[] = [
  {
    ...countQuestion('hours_driving', 'Hours of driving on a usual day', 'h', 'Time with a hand on the control, not time in the chair.', 1),
    often: ['1', '2', '3', '4', '6'],
  },
  {
    ...countQuestion(
      'commands_per_min',
      'Commands while driving',
      'a minute',
      'Count by touch here, or for two usual minutes and halve.',
      1,
    ),
    often: ['4', '8', '12', '16', '20'],
  },
  countQuestion('seconds_per_command', 'Seconds that one command lasts', 's', 'From push to release, on a usual stretch.', 1),
  countQuestion('wait_weeks', 'Expected wait until delivery', 'weeks', 'So that the choice still fits when it arrives.', 0),
  {
    ...countQuestion(
      'wrist_deg',
      'Wrist while driving',
      '°',
      'Bent towards the palm is plus, towards the back of the hand is minus, straight is 0.',
      0,
    ),
    often: ['-20', '0', '20'],
  },
];

/** Another task of the hand that drives; it adds to the strain of driving. */
export const TASK: readonly CountQuestion[] = [
  countQuestion(
    'task_share',
    'Strength that it asks',
    '%',
    'Part of the most that this hand can give, as the person puts it or the gauge shows.',
    0,
  ),
  countQuestion('task_per_min', 'Pressings of it', 'a minute', 'Count for two usual minutes and halve.', 1),
  countQuestion('task_seconds', 'Seconds that one pressing lasts', 's', '', 1),
  countQuestion('task_wrist_deg', 'Wrist meanwhile', '°', 'Towards the palm is plus, towards the back of the hand is minus.', 0),
  countQuestion('task_hours', 'Hours a day of its own', 'h', 'Blank when it is done while driving.', 1),
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
    ...YES_NO.map((one) => one.field),
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
export const COURSE_WORDS: Readonly<Record<Course, string>> = {
  stable: 'stable',
  slow: 'getting weaker slowly',
  fast: 'getting weaker fast',
  fluctuating: 'up and down',
  improving: 'getting stronger',
};
