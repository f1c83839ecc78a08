/** The computed figures of a result, put in order: one row a figure, one column a direction. */
import { numberWords, plainWords } from '../words';
import type { Basis, Figure, ResultView } from '../../lib/engine/result';

export const DIRECTIONS = ['forward', 'reverse', 'left', 'right'] as const;

export interface FigureRow {
  readonly name: string;
  readonly unit: string;
  /** By direction; a direction without the figure is missing. */
  readonly cells: ReadonlyMap<string, Figure>;
}

export interface SiteFigures {
  readonly site: string;
  readonly rows: readonly FigureRow[];
}

export interface SortedFigures {
  /** Figures that exist for several directions of a site. */
  readonly sites: readonly SiteFigures[];
  /** All others, in the engine's order. */
  readonly single: readonly Figure[];
}

/** Separates figures by direction from those that stand alone. */
export function sortFigures(result: ResultView): SortedFigures {
  const rows = new Map<string, Figure[]>();
  for (const figure of result.figures) {
    const key = `${figure.site}\t${figure.name}`;
    rows.set(key, [...(rows.get(key) ?? []), figure]);
  }
  const sites = new Map<string, FigureRow[]>();
  const single: Figure[] = [];
  for (const figures of rows.values()) {
    const [first] = figures;
    if (!first || figures.length < 2) {
      single.push(...figures);
      continue;
    }
    const cells = new Map(figures.map((figure) => [figure.direction ?? '', figure]));
    sites.set(first.site, [...(sites.get(first.site) ?? []), { name: first.name, unit: first.unit, cells }]);
  }
  return { sites: [...sites].map(([site, list]) => ({ site, rows: list })), single };
}

const WORDS: Readonly<Record<string, string>> = {
  count: 'Readings',
  mean: 'Mean',
  sd: 'Standard deviation',
  low: 'True mean, probably at least',
  high: 'True mean, probably at most',
  lower: 'True mean, cautious lower limit',
  spread: 'Spread',
  cv: 'Standard deviation in % of the mean',
  usable: 'Usable force',
  'reserve-direction': 'Reserve',
  travel: 'Usable travel',
  'travel-reserve-direction': 'Travel reserve',
  reserve: 'Reserve, weakest needed direction',
  'travel-reserve': 'Travel reserve, shortest needed direction',
  'weakest-spread': 'Spread, weakest direction',
  'tired-ratio': 'Left when tired',
  hold: 'Longest hold',
  release: 'Slowest release',
  noise: 'Unintended force against starting force',
  'hold-time-low': 'Holding time, probably at least',
  'hold-time-high': 'Holding time, probably at most',
  'limit-intermittent': 'Most for on and off over an hour',
  'limit-sustained': 'Most for holding over an hour',
  'limit-duty': 'Most for this part of the time',
  'strain-index': 'Strain index',
  'strain-index-task': 'Strain index of the other task',
  'strain-composite': 'Strain index with the other task (COSI)',
  'strain-cumulative': 'Strain index with the other task (CUSI)',
  'switch-usable': 'Usable force at the switch',
  'switch-reserve': 'Switch reserve',
  'switch-usable-power': 'Usable force at the power switch',
  'switch-usable-mode': 'Usable force at the mode switch',
  'switch-reserve-power': 'Reserve of the power switch',
  'switch-reserve-mode': 'Reserve of the mode switch',
  contacts: 'Contacts',
  prompts: 'Prompts',
  rescues: 'Take-overs',
  presses: 'Presses that were not meant',
  rough: 'Commands on rough ground that were not meant',
};

/** A figure's name in words, with "rested" or "tired" where it has one. */
export function figureWords(name: string): string {
  const state = /^(.*)-(rested|tired)$/.exec(name);
  if (!state) return WORDS[name] ?? plainWords(name.replace(/^exposure-/, ''));
  return `${WORDS[state[1] ?? ''] ?? plainWords(state[1] ?? '')}, ${state[2]}`;
}

/** What a figure rests on; state, direction and switch at the end of its name do not matter for that. */
export function basisOf(result: ResultView, name: string): Basis | undefined {
  for (let part = name; part !== ''; part = part.slice(0, Math.max(0, part.lastIndexOf('-')))) {
    const basis = result.bases.get(part);
    if (basis) return basis;
  }
  return undefined;
}

/** A figure's value, said to be assumed where it is; a dash where there is none. */
export function valueWords(figure: Figure | undefined): string {
  if (!figure || figure.value === null) return '–';
  const value = readable(figure.value, figure.unit);
  return figure.basis === 'assumed' ? `${value} (assumed)` : value;
}

/** As many places as a reader can use: two for ratios, one for the rest. */
function readable(value: string, unit: string): string {
  const number = Number(value);
  return Number.isFinite(number) ? numberWords(number, unit === 'ratio' ? 2 : 1) : value;
}

/** A unit for a heading: nothing for pure ratios. */
export function unitWords(unit: string): string {
  return unit === '-' || unit === 'ratio' || unit === 'readings' ? '' : unit;
}
