import type { BadInput } from './model.gen';

/**
 * Why a write, an unlock or a request did not happen:
 * - `full`: the browser has no room left
 * - `locked`: nobody is signed in on this tab
 * - `lost`: the browser closed the database and could not open it again
 * - `blocked`: another tab holds an older version open
 * - `deleted`: the database was deleted while this tab had it open
 * - `outdated`: a newer version of the app has changed the database
 * - `password`: the password does not open this tablet
 * - `wait`: too many wrong passwords; not yet
 * - `changed-password`: the server knows a newer password than this tablet
 * - `never-online`: this person has not signed in here with a network yet
 * - `offline`, `portal`, `server`, `sign-in`, `refused`: see the message
 * - `conflict`: the server holds something newer; `detail` is its answer
 * - `damaged`: a stored row does not open with this key
 */
export type StoreErrorCode =
  | 'full'
  | 'locked'
  | 'lost'
  | 'blocked'
  | 'deleted'
  | 'outdated'
  | 'password'
  | 'wait'
  | 'changed-password'
  | 'never-online'
  | 'offline'
  | 'portal'
  | 'server'
  | 'sign-in'
  | 'refused'
  | 'conflict'
  | 'damaged'
  | 'unknown';

export interface StoreErrorInfo {
  readonly status?: number;
  /** Name of the field that the server objected to. */
  readonly field?: string;
  readonly want?: string;
  /** The server's own error code. */
  readonly reason?: string;
  readonly detail?: unknown;
  readonly cause?: unknown;
}

/** The only error that the store throws; `message` is a sentence for people. */
export class StoreError extends Error {
  readonly code: StoreErrorCode;
  readonly info: StoreErrorInfo;

  constructor(code: StoreErrorCode, message: string, info: StoreErrorInfo = {}) {
    super(message, info.cause === undefined ? undefined : { cause: info.cause });
    this.name = 'StoreError';
    this.code = code;
    this.info = info;
  }
}

/** The server takes nothing in, because it is full or has set too much aside, and can still be read. */
export function isFull({ info }: StoreError): boolean {
  return info.reason === 'server-full' || info.reason === 'quarantine-full';
}

/** Nobody is signed in on this tab. */
export function lockedError(): StoreError {
  return new StoreError('locked', 'This tablet is locked. Sign in to go on; nothing is lost.');
}

/** What the tablet's program has against a question or an entry: the same as the server would say. */
export class BadInputError extends Error implements BadInput {
  readonly code: string;
  /** Leads to the field, such as "body.level"; empty when the whole input is meant. */
  readonly path: string;
  readonly want: string;
  readonly got: string;

  constructor({ code, path, want, got }: BadInput) {
    super(sayBadInput({ code, path, want, got }));
    this.name = 'BadInputError';
    this.code = code;
    this.path = path;
    this.want = want;
    this.got = got;
  }
}

/** In one sentence: "Level: expected 0 to 4, got 7." */
export function sayBadInput({ path, want, got }: BadInput): string {
  return `${fieldWords(path) || 'This entry'}: expected ${want}${got === '' ? '' : `, got ${got}`}.`;
}

/** Fields whose names alone do not say what they are. */
const namedFields: Readonly<Record<string, string>> = {
  at: 'Time',
  born: 'Date of birth',
  gap_mm: 'Gap from the knob (mm)',
  ref: 'Service number',
  slip: 'Set aside',
  what: 'What was measured',
};

/** Ends of names that are units or go on as such. */
const unitEnds: readonly (readonly [end: RegExp, words: string])[] = [
  [/_per_min$/, ' a minute'],
  [/_deg$/, ' (degrees)'],
  [/_(mm|gf|g|kg|s)$/, ' ($1)'],
];

/** A field by its path, in words: "Hours driving" for "body.hours_driving", "Needed, number 2" for "body.needed[1]"; nothing for the whole. */
export function fieldWords(path: string): string {
  const [, name = '', index] = /(?:^|\.)([^.[\]]*)(?:\[(\d+)\])?$/.exec(path.replace(/^body(?=\.|$)/, '')) ?? [];
  if (name === '') return '';
  const end = unitEnds.find(([pattern]) => pattern.test(name));
  const plain = (end ? name.replace(...end) : name).replaceAll('_', ' ');
  const words = namedFields[name] ?? `${plain.slice(0, 1).toUpperCase()}${plain.slice(1)}`;
  return index === undefined ? words : `${words}, number ${Number(index) + 1}`;
}
