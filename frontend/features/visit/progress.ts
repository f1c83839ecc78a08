import { headsOf } from '../../ui/answer';
import type { Definition, Item, Section } from '../../lib';
import { itemIn } from '../../ui/result/items';
import { effects, type Result, type Visit } from '../../lib/model.gen';

/** How an item stands. "choice": two people answered apart. */
export type Standing = 'not-tested' | 'answered' | 'not-applicable' | 'choice';

/** A computed item stands as the engine says; any other as it was answered. */
export function standingOf(item: Item, visit: Visit, result: Result | null): Standing {
  const heads = headsOf(visit, item.id);
  if (heads.length > 1) return 'choice';
  const state = heads[0]?.state;
  if (state === 'not-applicable') return 'not-applicable';
  if (item.from !== undefined) return itemIn(result, item.id)?.state === 'answered' ? 'answered' : 'not-tested';
  return state === 'answered' ? 'answered' : 'not-tested';
}

/** Where one part of the checklist stands. */
export interface Progress {
  /** Answered or not applicable. */
  readonly done: number;
  readonly of: number;
  /** Effects that its items raise, most serious first, each with how often. */
  readonly raised: readonly { readonly effect: string; readonly count: number }[];
  readonly choices: number;
}

function countEffects(raised: readonly string[]): Progress['raised'] {
  return effects.map((effect) => ({ effect, count: raised.filter((one) => one === effect).length })).filter((one) => one.count > 0);
}

export function sectionProgress(section: Section, visit: Visit, result: Result | null): Progress {
  const ids = new Set(section.items.map((item) => item.id));
  const stands = section.items.map((item) => standingOf(item, visit, result));
  return {
    done: stands.filter((one) => one === 'answered' || one === 'not-applicable').length,
    of: section.items.length,
    raised: countEffects((result?.effects ?? []).filter((one) => ids.has(one.item)).map((one) => one.effect)),
    choices: stands.filter((one) => one === 'choice').length,
  };
}

/** Items that are not tested, part by part; parts with none are left out. */
export function notTested(checklist: Definition, visit: Visit, result: Result | null): readonly Section[] {
  return checklist.sections
    .map((section) => ({ ...section, items: section.items.filter((item) => standingOf(item, visit, result) === 'not-tested') }))
    .filter((section) => section.items.length > 0);
}

/** How many items of the visit wait for a choice. */
export function openChoices(visit: Visit): number {
  return visit.answers.filter((answer) => answer.heads.length > 1).length;
}
