/** The limits of a therapist's decision against the calculated level. */
import { levelIndex, levelWord } from '../../ui/level-door';
import { isDate } from '../../lib/dates';
import { decidedLevels, type DecidedLevelId, type OverrideMade, type Result } from '../../lib/model.gen';

export interface OverrideDraft {
  readonly level: string;
  readonly reason: string;
  readonly text: string;
  readonly mitigation: string;
  readonly agreed: string;
  readonly until: string;
}

export interface OverrideProblem {
  readonly field: keyof OverrideDraft;
  readonly message: string;
}

export const EMPTY_OVERRIDE: OverrideDraft = { level: '', reason: '', text: '', mitigation: '', agreed: '', until: '' };

/** What the engine asks of a higher level; null while its limits are not known here, and then only the engine judges. */
export interface RaiseLimits {
  /** Fewest characters of the explanation. */
  readonly text: number;
  /** Longest run in days. */
  readonly days: number;
}

/** Finds them in the engine's limits by id. */
export function raiseLimits(limits: ReadonlyMap<string, number> | null): RaiseLimits | null {
  const [text, days] = [limits?.get('override-text'), limits?.get('override-days')];
  return text === undefined || days === undefined ? null : { text, days };
}

/** False without a level, and while a STOP or STOP-CONTROL stands: the level may then only go down. */
export function mayRaise(result: Result): boolean {
  return result.level !== 'none' && !result.effects.some((effect) => effect.effect === 'stop' || effect.effect === 'stop-control');
}

/** The levels that may be chosen: every lower one, a pause where there is no level yet, and one step up where nothing stops it. */
export function choosableLevels(result: Result): readonly DecidedLevelId[] {
  const at = levelIndex(result.level);
  return decidedLevels.filter((level) => {
    const place = levelIndex(level);
    return place < at || (result.level === 'none' && level === 'pause') || (place === at + 1 && mayRaise(result));
  });
}

/** True when the draft asks for a higher level than the calculated one. */
export function raises(draft: OverrideDraft, result: Result): boolean {
  return levelIndex(draft.level) > Math.max(levelIndex(result.level), levelIndex('pause'));
}

/** Every problem of the draft, each naming the field and what is expected. */
export function overrideProblems(
  draft: OverrideDraft,
  result: Result,
  today: string,
  limits: RaiseLimits | null,
): readonly OverrideProblem[] {
  const choosable = choosableLevels(result);
  const found: OverrideProblem[] = [];
  const say = (field: keyof OverrideDraft, message: string): void => void found.push({ field, message });
  if (!choosable.some((level) => level === draft.level)) say('level', `Level: choose one of ${choosable.map(levelWord).join(', ')}.`);
  if (draft.reason === '') say('reason', 'Reason: choose one from the list.');
  if (draft.text.trim() === '') say('text', 'Explanation: say in your own words why.');
  if (raises(draft, result)) raiseProblems(draft, today, limits, say);
  else if (draft.until !== '' && (!isDate(draft.until) || draft.until < today))
    say('until', `Until: expected a day from ${today} on, or nothing.`);
  return found;
}

function raiseProblems(
  draft: OverrideDraft,
  today: string,
  limits: RaiseLimits | null,
  say: (field: keyof OverrideDraft, message: string) => void,
): void {
  const length = [...draft.text.trim()].length;
  const last = limits === null ? '' : addDays(today, limits.days);
  if (limits !== null && length > 0 && length < limits.text)
    say('text', `Explanation: expected at least ${limits.text} characters for a higher level, got ${length}.`);
  if (draft.mitigation.trim() === '') say('mitigation', 'What makes it safe: needed for a higher level.');
  if (draft.agreed.trim() === '') say('agreed', 'Who agreed: needed for a higher level.');
  if (!isDate(draft.until) || draft.until < today || (last !== '' && draft.until > last))
    say('until', `Until: expected a day from ${today} ${last === '' ? 'on' : `to ${last}`}.`);
}

/** A date some days later, both 2006-01-02. */
export function addDays(date: string, days: number): string {
  const when = new Date(`${date}T00:00:00Z`);
  when.setUTCDate(when.getUTCDate() + days);
  return when.toISOString().slice(0, 10);
}

/** The body of the override-made event; empty optional fields are left out. */
export function overrideBody(draft: OverrideDraft, today: string): OverrideMade {
  const { level, reason } = draft;
  return {
    level,
    reason,
    text: draft.text.trim(),
    from: today,
    ...filled({ mitigation: draft.mitigation, agreed: draft.agreed, until: draft.until }),
  };
}

function filled(fields: Readonly<Record<string, string>>): Readonly<Record<string, string>> {
  return Object.fromEntries(
    Object.entries(fields)
      .map(([name, value]) => [name, value.trim()])
      .filter(([, value]) => value !== ''),
  );
}
