import type { Definition, HelpLevel, Item, Level } from '../lib';
import type { AnswerGiven, Given, Visit } from '../lib/model.gen';
import { numberWords } from './words';

/** One way to answer a help, fit or yes-no item. */
export interface LevelChoice {
  readonly value: string;
  readonly label: string;
  readonly text: string;
}

function helpChoice(level: HelpLevel): LevelChoice {
  return { value: level.level, label: `${level.level} ${level.name}`, text: level.text };
}

function wordChoice(level: Level): LevelChoice {
  const label = level.level === 'yes' || level.level === 'no' ? (level.level === 'yes' ? 'Yes' : 'No') : level.level;
  return { value: level.level, label, text: level.text };
}

/** The answers that an item offers, best first, always with their anchor words. */
export function levelChoices(item: Item, checklist: Definition): readonly LevelChoice[] {
  if (item.type === 'help') return (checklist.help ?? []).map(helpChoice);
  if (item.levels !== undefined && item.levels.length > 0) return item.levels.map(wordChoice);
  return item.type === 'yes-no'
    ? [
        { value: 'yes', label: 'Yes', text: '' },
        { value: 'no', label: 'No', text: '' },
      ]
    : [];
}

/**
 * The one word of a help level that fits a button: "Alone, slow" is Slow, "With words"
 * is Words. What it means in full stands in the legend of the part.
 */
export function shortHelp(choice: LevelChoice): string {
  const name = choice.label.slice(choice.value.length).trim();
  const word = name.includes(', ') ? name.slice(name.indexOf(', ') + 2) : name.replace(/^With /, '');
  return word.charAt(0).toUpperCase() + word.slice(1);
}

/** The most numbers that an item gets a button each for. */
const mostButtons = 12;

/** What is counted without an end gets so many buttons; more are typed. */
const openCountTo = 5;

/** The numbers that an item offers as buttons, others being typed; none where all are typed. */
export function buttonsOf(item: Item): readonly number[] {
  const { least, most } = rangeOf(item);
  if (item.type === 'number' && item.unit === '%' && least === 0 && most === 100) return [100, 80, 60, 40, 20];
  const whole = item.type === 'count' || item.unit === '0-10';
  if (!whole || least !== 0) return [];
  const to = most <= mostButtons ? most : item.type === 'count' && item.of === undefined ? openCountTo : -1;
  return Array.from({ length: to + 1 }, (_, index) => index);
}

/** All answers that stand for an item: none, one, or several that wait for a choice. */
export function headsOf(visit: Visit, item: string): readonly Given[] {
  return visit.answers.find((answer) => answer.item === item)?.heads ?? [];
}

/** The one answer that stands; undefined for none and while a choice is open. */
export function standing(heads: readonly Given[]): Given | undefined {
  return heads.length === 1 ? heads[0] : undefined;
}

/** A number with the item's unit, the way it is said: "12 s", "1 in 12", "3 of 5". */
function withUnit(item: Item, value: number): string {
  const number = numberWords(value);
  const unit = item.unit ?? '';
  if (value < 0 && item.below_zero) return `${numberWords(-value)} ${unit} ${item.below_zero}`;
  if (unit === '1 in x') return `1 in ${number}`;
  if (unit === '' || unit === 'ratio' || unit === '0-10' || unit.startsWith('of ')) return number;
  if (unit === 'times') return `${number} ${value === 1 ? 'time' : 'times'}`;
  return `${number} ${unit}`;
}

/** The unit beside an empty field: "s", "of 5", "0 to 10". */
export function unitLabel(item: Item): string {
  const unit = item.unit ?? '';
  if (unit === '0-10') return 'of 10';
  return unit === 'ratio' ? '' : unit;
}

/** A band that is named by its own number: "one", "three or more". */
const NUMBERED = /^(all|none|one|two|three|four|five|six|seven|eight|nine)( or \w+)?$/;

/** The bands in words, for example "10 s or less: fast". A number is not said twice. */
export function bandLines(item: Item): readonly string[] {
  const high = item.better === 'high';
  // Of 1 in 10 and 1 in 12 nobody says at once which is more.
  const slope = item.unit === '1 in x';
  const better = slope ? (high ? 'flatter' : 'steeper') : high ? 'more' : 'less';
  const worse = slope ? (high ? 'steeper' : 'flatter') : high ? 'less' : 'more';
  const bands = item.bands ?? [];
  const whole = item.type === 'count' || item.unit === 'times';
  return bands.map((band, at) => {
    const numbered = NUMBERED.test(band.text);
    if (numbered && (whole || band.text === 'none')) return band.text;
    if (band.bound !== undefined && numbered) return `up to ${withUnit(item, band.bound)}`;
    if (band.bound !== undefined) return `${withUnit(item, band.bound)}${isEnd(item, band.bound) ? '' : ` or ${better}`}: ${band.text}`;
    const before = bands[at - 1]?.bound;
    if (before === undefined) return band.text;
    return `${worse} than ${withUnit(item, before)}${numbered ? '' : `: ${band.text}`}`;
  });
}

/** Whether nothing lies beyond a bound on its better side: "5", not "5 or more", of 5. */
function isEnd(item: Item, bound: number): boolean {
  return item.type === 'count' && bound === (item.better === 'high' ? item.of : 0);
}

/** The least and the most that can be typed, for one side when the item has two. */
export function rangeOf(item: Item): { readonly least: number; readonly most: number } {
  if (item.type !== 'count') return { least: item.min ?? -1e9, most: item.max ?? 1e9 };
  const most = item.of ?? item.max ?? 999;
  return { least: 0, most: item.sides ? most / 2 : most };
}

/** Digits after the point that a typed answer may have. */
export function typedDecimals(item: Item): number {
  return item.type === 'count' ? 0 : Math.max(1, item.decimals ?? 0);
}

/** Why a typed number is refused, or undefined. */
export function outOfRange(item: Item, value: number): string | undefined {
  const { least, most } = rangeOf(item);
  return value >= least && value <= most ? undefined : `Expected ${rangeWords(item)}, got ${numberWords(value)}.`;
}

/** The allowed numbers in words. */
export function rangeWords(item: Item): string {
  const { least, most } = rangeOf(item);
  const from = item.unit === '1 in x' ? withUnit(item, least) : numberWords(least);
  return `${from} to ${withUnit(item, most)}${item.below_zero ? ` (below 0: ${item.below_zero})` : ''}`;
}

function countWords(item: Item, answer: AnswerGiven): string {
  if (answer.left !== undefined && answer.right !== undefined) {
    return `left ${numberWords(answer.left)}, right ${numberWords(answer.right)}`;
  }
  if (answer.number === undefined) return 'answered';
  return item.of === undefined ? withUnit(item, answer.number) : `${numberWords(answer.number)} of ${item.of}`;
}

/** One answer in plain words, the same in the card, in a conflict and in the undo list. */
export function answerWords(item: Item, checklist: Definition, answer: AnswerGiven): string {
  if (answer.state === 'not-tested') return 'not tested';
  if (answer.state === 'not-applicable') return `does not apply${answer.reason ? `: ${answer.reason}` : ''}`;
  if (answer.level === undefined || answer.level === '') return countWords(item, answer);
  const choice = levelChoices(item, checklist).find((one) => one.value === answer.level);
  return choice ? `${choice.label}${choice.text === '' ? '' : `, ${choice.text}`}` : answer.level;
}

/** What was saved, in plain words: the answer, or the note where only that is another one. */
export function savedWords(item: Item, checklist: Definition, before: AnswerGiven, answer: AnswerGiven): string {
  const [{ note: was = '', ...rest }, { note = '', ...given }] = [before, answer];
  const noted = note !== was && JSON.stringify(sorted(rest)) === JSON.stringify(sorted(given));
  if (noted) return note === '' ? `${item.title}, without its note` : `${item.title}, the note`;
  return `${item.title}, ${answerWords(item, checklist, answer)}`;
}

function sorted(answer: object): readonly (readonly [string, unknown])[] {
  return Object.entries(answer).sort(([a], [b]) => (a < b ? -1 : 1));
}

/** An answer without its stamp, to give again with a change. */
export function bare(answer: AnswerGiven | undefined, item: string): AnswerGiven {
  if (answer === undefined) return { item, state: 'not-tested' };
  return {
    item,
    state: answer.state,
    ...(answer.level ? { level: answer.level } : {}),
    ...(answer.number === undefined ? {} : { number: answer.number }),
    ...(answer.left === undefined ? {} : { left: answer.left }),
    ...(answer.right === undefined ? {} : { right: answer.right }),
    ...(answer.facts === undefined ? {} : { facts: answer.facts }),
    ...(answer.reason ? { reason: answer.reason } : {}),
    ...(answer.note ? { note: answer.note } : {}),
    ...(answer.method ? { method: answer.method } : {}),
  };
}

/** What an answer keeps when its value changes: the note and the side questions. */
export function factsAndNote(answer: AnswerGiven | undefined): Pick<AnswerGiven, 'facts' | 'note'> {
  return {
    ...(answer?.facts === undefined ? {} : { facts: answer.facts }),
    ...(answer?.note ? { note: answer.note } : {}),
  };
}
