/** What was not the same at two visits: words, and short marks for a drawing. */
import type { Trend } from '../../lib/model.gen';

interface Differing {
  readonly words: string;
  /** One letter in a drawing; the legend says what it stands for. */
  readonly mark: string;
}

const CONDITIONS: Readonly<Record<string, Differing>> = {
  support: { words: 'support', mark: 'H' },
  site: { words: 'site', mark: 'S' },
  control: { words: 'control', mark: 'C' },
  settings: { words: 'settings', mark: 'E' },
  'time-of-day': { words: 'time of day', mark: 'T' },
  rater: { words: 'rater', mark: 'R' },
  checklist: { words: 'checklist version', mark: 'V' },
};

/** A condition as it is shown; one from a later version by its own name. */
function conditionOf(name: string): Differing {
  return CONDITIONS[name] ?? { words: name, mark: name.slice(0, 1).toUpperCase() };
}

/** What was not the same at the visits of two days. */
export function differingAt(trend: Trend | null, from: number | undefined, to: number): readonly Differing[] {
  return (trend?.conditions?.find((one) => one.from === from && one.to === to)?.names ?? []).map(conditionOf);
}

/** The same in words. */
export function differingWords(trend: Trend | null, from: number | undefined, to: number): string {
  return differingAt(trend, from, to)
    .map((one) => one.words)
    .join(', ');
}

/** All that was not the same at any two visits, each once. */
export function everDiffering(trend: Trend | null): readonly Differing[] {
  return [...new Set((trend?.conditions ?? []).flatMap((one) => one.names))].map(conditionOf);
}
