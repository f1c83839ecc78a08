import type { PartState } from '../../ui/part-mark';
import { findItem } from '../../ui/visit/links';
import type { Section, VisitView } from '../../lib';
import { sectionProgress } from './progress';

/** How a part of the checklist stands, as the rail tells it. */
export interface PartStanding {
  readonly state: PartState;
  readonly done: number;
  readonly of: number;
  readonly words: string;
}

/** Groups of what is missing without which the level stays open. */
const needed: ReadonlySet<string> = new Set(['first', 'stop', 'needed']);

export function neededIn(section: Section, view: VisitView): number {
  const rows = view.result?.missing ?? [];
  return rows.filter((one) => needed.has(one.group) && one.item !== undefined && findItem(view.checklist, one.item)?.code === section.code)
    .length;
}

export function partStanding(section: Section, view: VisitView): PartStanding {
  const { done, of, raised, choices } = sectionProgress(section, view.visit, view.result);
  const stops = raised.filter((one) => one.effect.startsWith('stop')).reduce((sum, one) => sum + one.count, 0);
  const wanted = neededIn(section, view);
  const part = (state: PartState, words: string): PartStanding => ({ state, done, of, words });
  if (stops > 0) return part('stop', stops === 1 ? '1 forbids driving' : `${stops} forbid driving`);
  if (choices > 0) return part('choice', choices === 1 ? 'needs your choice' : `${choices} need your choice`);
  if (done === of) return part('all', 'all answered');
  if (wanted > 0) return part(done === 0 ? 'none' : 'some', `${wanted} needed`);
  return done === 0 ? part('none', 'not begun') : part('some', `${of - done} open`);
}
