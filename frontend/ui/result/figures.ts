/** The computed figures of a result, put in order: one row a figure, one column a direction. */
import type { Provenance, Quantity, Result } from '../../lib/model.gen';
import { numberWords, plainWords } from '../words';

export interface FigureRow {
  readonly name: string;
  readonly unit: string | undefined;
  /** By direction; a direction without the figure is missing. */
  readonly cells: ReadonlyMap<string, Quantity>;
}

export interface SiteFigures {
  readonly site: string;
  readonly rows: readonly FigureRow[];
}

export interface SortedFigures {
  /** Figures that exist for several directions of a site. */
  readonly sites: readonly SiteFigures[];
  /** All others, in the engine's order. */
  readonly single: readonly Quantity[];
}

/** All that was computed: what readings and runs come to, then the limits of a usual day. */
export function figuresOf(result: Result): readonly Quantity[] {
  return [...result.quantities, ...(result.limits ?? [])];
}

/** Separates figures by direction from those that stand alone. */
export function sortFigures(result: Result): SortedFigures {
  const rows = new Map<string, Quantity[]>();
  for (const figure of figuresOf(result)) {
    const key = `${figure.site ?? ''}\t${figure.name}`;
    rows.set(key, [...(rows.get(key) ?? []), figure]);
  }
  const sites = new Map<string, FigureRow[]>();
  const single: Quantity[] = [];
  for (const figures of rows.values()) {
    const [first] = figures;
    if (!first || figures.length < 2) {
      single.push(...figures);
      continue;
    }
    const cells = new Map(figures.map((figure) => [figure.direction ?? '', figure]));
    const site = first.site ?? '';
    sites.set(site, [...(sites.get(site) ?? []), { name: first.name, unit: first.unit, cells }]);
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
  'reserve-direction': 'Force in times of what is asked',
  travel: 'Usable travel',
  'travel-reserve-direction': 'Movement in times of what is asked',
  reserve: 'Force in times of what is asked, weakest needed direction',
  'travel-reserve': 'Movement in times of what is asked, shortest needed direction',
  'weakest-spread': 'Spread, weakest direction',
  'tired-ratio': 'Left when tired',
  hold: 'Shortest hold',
  release: 'Slowest release',
  noise: 'Force not meant, in times of what starts the control',
  'hold-time-low': 'Holding time, probably at least',
  'hold-time-high': 'Holding time, probably at most',
  'limit-intermittent': 'Limit for an hour of pushing on and off, of the strength',
  'limit-sustained': 'Limit for an hour of holding without a break, of the strength',
  'limit-duty': 'Limit when the control is pushed as often as here, of the strength',
  'limit-time': 'How much of the time the control may be pushed',
  'strain-index': 'Strain of the hand',
  'strain-index-task': 'Strain of the other task',
  'strain-composite': 'Strain with the other task at the same time',
  'strain-cumulative': 'Strain with the other task over the day',
  'switch-usable': 'Usable force at the switch',
  'switch-reserve': 'Force at the switch in times of what it asks',
  'switch-usable-power': 'Usable force at the power switch',
  'switch-usable-mode': 'Usable force at the mode switch',
  'switch-usable-stop': 'Usable force at the driver’s own stop',
  'switch-reserve-power': 'Force at the power switch in times of what it asks',
  'switch-reserve-mode': 'Force at the mode switch in times of what it asks',
  'switch-reserve-stop': 'Force at the driver’s own stop in times of what it asks',
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
export function provenanceOf(result: Result, name: string): Provenance | undefined {
  for (let part = name; part !== ''; part = part.slice(0, Math.max(0, part.lastIndexOf('-')))) {
    const provenance = result.provenance?.find((one) => one.quantity === part);
    if (provenance) return provenance;
  }
  return undefined;
}

const STATUS_WORDS: Readonly<Record<string, string>> = {
  published: 'published',
  derived: 'derived here and checked by search',
  practice: 'common practice, no source',
  'from-memory': 'from memory',
  proposal: 'proposal, not validated',
};

/** How well what a figure rests on is founded. */
export function statusWords(provenance: Provenance): string {
  const words = STATUS_WORDS[provenance.status] ?? plainWords(provenance.status);
  return provenance.borrowed ? `${words}, borrowed` : words;
}

const ORIGINS: Readonly<Record<string, string>> = { measured: 'measured', assumed: 'assumed', missing: 'not measured' };

/** Where a figure's value comes from. */
export function originWords(figure: Quantity): string {
  return ORIGINS[figure.origin] ?? plainWords(figure.origin);
}

/** A figure's value, said to be assumed where it is; a dash where there is none. */
export function valueWords(figure: Quantity | undefined): string {
  if (figure?.value === undefined) return '–';
  const value = readable(figure.value, figure.unit);
  return figure.origin === 'assumed' ? `${value} (assumed)` : value;
}

/** As many places as a reader can use: two for ratios, one for the rest. */
function readable(value: number, unit: string | undefined): string {
  return numberWords(value, unit === 'ratio' ? 2 : 1);
}

/** Units that are no signs; a sign such as gf stands for itself. */
const UNIT_WORDS: Readonly<Record<string, string>> = {
  ratio: '',
  readings: '',
  'of-strength': 'of the strength',
  'of-ten': 'of 10',
  'per-10-min': 'per 10 min',
  'per-20-m': 'per 20 m',
  'per-50-m': 'per 50 m',
  'per-day': 'a day',
  'per-minute-of-driving': 'a minute of driving',
};

/** A unit for a heading: nothing for pure ratios. */
export function unitWords(unit: string | undefined): string {
  return unit === undefined ? '' : (UNIT_WORDS[unit] ?? unit);
}
