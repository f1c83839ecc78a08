/**
 * Where the numbers come from: the sum behind a domain's score, line by line,
 * and the gates that stand between this level and the next.
 */
import { levels, type Gate, type LevelId, type Result } from '../../lib/model.gen';
import { levelIndex } from '../level-door';
import { sentenceOf } from '../words';
import { itemIn } from './items';

export interface ExplainedItem {
  readonly id: string;
  readonly title: string;
  readonly weight: number;
}

export interface ExplainedSection {
  readonly code: string;
  readonly title: string;
  readonly items: readonly ExplainedItem[];
}

/** One item's part in a domain's sum. */
export interface SumLine {
  readonly item: ExplainedItem;
  /** What was answered, as shown, or why there is nothing. */
  readonly answer: string;
  /** weight × value, or null when the item does not count. */
  readonly points: number | null;
  readonly value: number | null;
  readonly counted: 'answered' | 'not-tested' | 'not-applicable';
}

export interface Sum {
  readonly lines: readonly SumLine[];
  /** Sum of weight × value, and of weight, over answered items. */
  readonly points: number;
  readonly answeredWeight: number;
  /** Sum of weight over items that apply. */
  readonly applicableWeight: number;
}

/** A level of an item in words, for answers that are no number. */
export type LevelText = (item: string, level: string) => string;

/** The sum behind one domain, in the checklist's order. */
export function sumOf(section: ExplainedSection, result: Result, levelText: LevelText = (_, level) => level): Sum {
  const lines = section.items.map((item) => lineOf(item, result, levelText));
  const answered = lines.filter((line) => line.counted === 'answered');
  const applicable = lines.filter((line) => line.counted !== 'not-applicable');
  return {
    lines,
    points: total(answered, (line) => line.points ?? 0),
    answeredWeight: total(answered, (line) => line.item.weight),
    applicableWeight: total(applicable, (line) => line.item.weight),
  };
}

function lineOf(item: ExplainedItem, result: Result, levelText: LevelText): SumLine {
  const got = itemIn(result, item.id);
  if (got?.state === 'not-applicable') return { item, answer: 'does not apply', points: null, value: null, counted: 'not-applicable' };
  if (got?.points === undefined) return { item, answer: 'not tested', points: null, value: null, counted: 'not-tested' };
  const level = got.level ? levelText(item.id, got.level) : 'answered';
  const value = got.points / 100;
  return { item, answer: sentenceOf(got.shown) || level, points: item.weight * value, value, counted: 'answered' };
}

function total<T>(of: readonly T[], what: (one: T) => number): number {
  return of.reduce((sum, one) => sum + what(one), 0);
}

export interface LevelGates {
  readonly level: LevelId;
  readonly gates: readonly Gate[];
  readonly met: boolean;
}

/** The gates by level from the lowest up; levels without gates are left out. */
export function gatesByLevel(result: Result): readonly LevelGates[] {
  return levels
    .map((level) => {
      const gates = result.gates.filter((gate) => gate.level === level);
      return { level, gates, met: gates.every((gate) => gate.met) };
    })
    .filter((group) => group.gates.length > 0);
}

/** The first condition of the next level that is not met, or null at the top. */
export function failedGate(result: Result): Gate | null {
  const next = nextLevel(result.level);
  return result.gates.find((gate) => gate.level === next && !gate.met) ?? result.gates.find((gate) => !gate.met) ?? null;
}

/** The level above, or null at the top. Without a level, as from a pause, practice is next. */
export function nextLevel(level: string): LevelId | null {
  return levels[Math.max(levelIndex(level) + 1, levelIndex('practise'))] ?? null;
}

/** A number with at most so many places and no trailing zeros: 2.50 reads "2.5". */
export function shortNumber(n: number, places = 2): string {
  const step = 10 ** places;
  return String(Math.round(n * step) / step);
}
