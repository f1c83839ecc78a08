/** Loads of a result by control and site, and what a number rests on. */
import type { Basis, Figure, Load, ResultView } from '../../lib/engine/result';

export interface LoadGroup {
  readonly control: string;
  readonly site: string;
  readonly loads: readonly Load[];
}

/** Loads together that belong together, in the engine's order. */
export function loadGroups(result: ResultView): readonly LoadGroup[] {
  const groups = new Map<string, Load[]>();
  for (const load of result.loads) {
    const key = `${load.control}\t${load.site}`;
    groups.set(key, [...(groups.get(key) ?? []), load]);
  }
  return [...groups.values()].flatMap((loads) => (loads[0] ? [{ control: loads[0].control, site: loads[0].site, loads }] : []));
}

const STRAIN = /^(hold-time|hold-share|limit-|strain|duty|hour|exposure)/;

/** Strain figures that stand under no load, such as an index for a whole site. */
export function looseFigures(result: ResultView): readonly Figure[] {
  return result.figures.filter((figure) => STRAIN.test(figure.name));
}

/** Whether a number was taken over from another part of the body, or from other work. */
export function isBorrowed(figure: Figure, basis: Basis | undefined): boolean {
  return /borrowed/i.test(`${figure.sentence} ${basis?.formula ?? ''} ${basis?.source ?? ''} ${basis?.status ?? ''}`);
}

/** The day so many weeks after another, 2006-01-02. */
export function weeksAfter(at: string, weeks: number): string {
  const time = new Date(at);
  time.setUTCDate(time.getUTCDate() + 7 * weeks);
  return Number.isNaN(time.getTime()) ? '' : time.toISOString().slice(0, 10);
}
