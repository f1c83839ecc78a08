/**
 * The result of a visit, read from the engine's text.
 *
 * The text is the same, byte for byte, on the tablet and on the server. It has
 * one statement a line and TAB between fields; the last field of a line may be
 * a sentence. Line kinds that this program does not know are skipped and
 * counted, so that an older tablet can still show a newer server's result.
 */

export type LevelId = 'pause' | 'practise' | 'accompanied' | 'home-ground' | 'wider-ground';
export type Verdict = 'feasible' | 'marginal' | 'not-feasible' | 'unknown';

/** From most help to least. */
export const LEVELS: readonly LevelId[] = ['pause', 'practise', 'accompanied', 'home-ground', 'wider-ground'];

export interface Gate {
  readonly level: LevelId;
  readonly met: boolean;
  readonly code: string;
  readonly sentence: string;
}

export interface RaisedEffect {
  /** stop, stop-control, stop-vehicle or limit:… */
  readonly effect: string;
  readonly item: string;
  readonly sentence: string;
}

export interface DomainScore {
  readonly code: string;
  /** null when too little was answered for one number: show low to high. */
  readonly score: number | null;
  readonly low: number | null;
  readonly high: number | null;
  /** Percent of the applicable weight that was answered. */
  readonly coverage: number;
  readonly answered: number;
  readonly applicable: number;
  readonly sentence: string;
}

export interface Cost {
  readonly domain: string;
  readonly item: string;
  readonly points: number;
  readonly sentence: string;
}

export interface ItemResult {
  readonly id: string;
  readonly state: string;
  /** The value as it should be shown, with its unit, or null. */
  readonly shown: string | null;
  /** The band (1 is best) or the level, or null. */
  readonly band: string | null;
  /** 0 to 1, or null when there is none. */
  readonly value: number | null;
  readonly computed: boolean;
  readonly needsChoice: boolean;
}

export interface Figure {
  readonly name: string;
  readonly site: string;
  readonly direction: string | null;
  /** As written by the engine: shortest decimal, or null when missing. */
  readonly value: string | null;
  readonly unit: string;
  readonly basis: 'measured' | 'assumed' | 'missing';
  readonly sentence: string;
}

export interface ControlVerdict {
  readonly indoors: Verdict;
  readonly outdoors: Verdict;
  readonly sentence: string;
}

export interface Reason {
  readonly rule: string;
  readonly verdict: Verdict;
  readonly sentence: string;
  /** What would change the verdict; empty when nothing needs to. */
  readonly change: string;
}

export interface ClassVerdict {
  readonly id: string;
  readonly verdict: Verdict;
  readonly reserve: string | null;
  readonly sentence: string;
}

export interface Step {
  readonly level: LevelId;
  readonly item: string | null;
  readonly sentence: string;
}

export interface Missing {
  readonly group: 'stop' | 'needed' | 'useful';
  /** An item id, or a reading's what, site and direction joined by colons. */
  readonly what: string;
  /** True when `what` names a reading and not an item. */
  readonly reading: boolean;
  readonly sentence: string;
}

export interface OverrideAnswer {
  readonly accepted: boolean;
  readonly level: LevelId;
  readonly sentence: string;
}

/** The verdict on one control at one measured site. */
export interface KitVerdict {
  /** A packed control's id, or `class:` and the id of a generic class. */
  readonly control: string;
  readonly site: string;
  readonly indoors: Verdict;
  readonly outdoors: Verdict;
  /** 1 is the first choice; null for what is not in the order of choice. */
  readonly rank: number | null;
  readonly role: 'main' | 'fallback' | null;
  readonly sentence: string;
}

/** What one rule says of one control at one site. */
export interface Why extends Reason {
  readonly control: string;
  readonly site: string;
  readonly where: 'indoors' | 'outdoors' | 'both';
}

/** The verdict of one state, when rested and tired give different ones. */
export interface WindowVerdict {
  readonly state: 'rested' | 'tired';
  readonly verdict: Verdict;
  readonly sentence: string;
}

/** How much of a direction's strength a control asks for. */
export interface Load {
  readonly control: string;
  readonly site: string;
  readonly direction: string | null;
  /** Percent of the usable force, or null when that was not measured. */
  readonly share: number | null;
  readonly sentence: string;
  /** Holding times and limits that go with it. */
  readonly figures: readonly Figure[];
}

/** How a figure is worked out and what it rests on. */
export interface Basis {
  readonly figure: string;
  readonly formula: string;
  readonly source: string;
  /** Says "borrowed" where the source measured something else. */
  readonly status: string;
}

export interface Exposure {
  readonly site: string;
  readonly sentence: string;
}

export interface RecheckBy {
  readonly weeks: number | null;
  readonly sentence: string;
}

export type PassageFit = 'fits' | 'tight' | 'does-not-fit' | 'unknown';

/** Whether the chair gets through one place. */
export interface Passage {
  readonly place: string;
  readonly fit: PassageFit;
  /** Millimetres left over at the tightest point, below 0 when short; null when not known. */
  readonly left: number | null;
  readonly sentence: string;
  readonly assumption: string;
  /** The reference with its section, or empty. */
  readonly reference: string;
}

/** An item that a change of settings made due again. */
export interface Due {
  readonly item: string;
  readonly sentence: string;
}

export interface ResultView {
  readonly engine: string;
  readonly rules: string;
  readonly level: LevelId;
  readonly interim: boolean;
  readonly sentence: string;
  readonly gates: readonly Gate[];
  readonly effects: readonly RaisedEffect[];
  readonly domains: readonly DomainScore[];
  readonly costs: readonly Cost[];
  readonly items: ReadonlyMap<string, ItemResult>;
  readonly figures: readonly Figure[];
  readonly control: ControlVerdict | null;
  readonly reasons: readonly Reason[];
  readonly classes: readonly ClassVerdict[];
  readonly up: readonly Step[];
  readonly missing: readonly Missing[];
  readonly override: OverrideAnswer | null;
  readonly notes: readonly string[];
  readonly verdicts: readonly KitVerdict[];
  /** Worst first within a control and site. */
  readonly whys: readonly Why[];
  readonly windows: readonly WindowVerdict[];
  readonly loads: readonly Load[];
  /** By figure name. */
  readonly bases: ReadonlyMap<string, Basis>;
  readonly exposures: readonly Exposure[];
  readonly recheckBy: RecheckBy | null;
  readonly passages: readonly Passage[];
  readonly due: readonly Due[];
  /** Lines of kinds that this program does not know. */
  readonly unknown: number;
}

/** The text is not a result, or one of a format that this program cannot read. */
export class ResultError extends Error {
  override readonly name = 'ResultError';
}

type Open<T> = T extends ReadonlyMap<infer K, infer V> ? Map<K, V> : T extends readonly (infer E)[] ? E[] : T;

type Draft = { -readonly [K in keyof ResultView]: Open<ResultView[K]> } & {
  levelSeen: boolean;
  /** The load that the figures right under it belong to; null elsewhere. */
  underLoad: (Load & { readonly figures: Figure[] }) | null;
};

type Reader = (into: Draft, f: Fields) => void;

/** The fields of one line after its kind; a missing field reads as empty. */
interface Fields {
  text(i: number): string;
  /** null for "-" and for an empty field. */
  maybe(i: number): string | null;
  number(i: number): number | null;
  flag(i: number): boolean;
  level(i: number): LevelId;
  verdict(i: number): Verdict;
  /** The rest of the line from field i on. */
  rest(i: number): string;
}

const READERS: Readonly<Record<string, Reader>> = {
  level: (d, f) => {
    d.level = f.level(0);
    d.interim = f.flag(1);
    d.sentence = f.rest(2);
    d.levelSeen = true;
  },
  gate: (d, f) => void d.gates.push({ level: f.level(0), met: f.flag(1), code: f.text(2), sentence: f.rest(3) }),
  effect: (d, f) => void d.effects.push({ effect: f.text(0), item: f.text(1), sentence: f.rest(2) }),
  domain: (d, f) =>
    void d.domains.push({
      code: f.text(0),
      score: f.number(1),
      low: f.number(2),
      high: f.number(3),
      coverage: f.number(4) ?? 0,
      answered: f.number(5) ?? 0,
      applicable: f.number(6) ?? 0,
      sentence: f.rest(7),
    }),
  cost: (d, f) => void d.costs.push({ domain: f.text(0), item: f.text(1), points: f.number(2) ?? 0, sentence: f.rest(3) }),
  item: (d, f) =>
    void d.items.set(f.text(0), {
      id: f.text(0),
      state: f.text(1),
      shown: f.maybe(2),
      band: f.maybe(3),
      value: f.number(4),
      computed: f.flag(5),
      needsChoice: f.flag(6),
    }),
  figure: (d, f) => {
    const figure: Figure = {
      name: f.text(0),
      site: f.text(1),
      direction: f.maybe(2),
      value: f.maybe(3),
      unit: f.text(4),
      basis: basisOf(f.text(5)),
      sentence: f.rest(6),
    };
    const load = d.underLoad;
    if (load?.site === figure.site && load.direction === figure.direction) load.figures.push(figure);
    else d.figures.push(figure);
  },
  control: (d, f) => {
    d.control = { indoors: f.verdict(0), outdoors: f.verdict(1), sentence: f.rest(2) };
  },
  reason: (d, f) => void d.reasons.push({ rule: f.text(0), verdict: f.verdict(1), sentence: f.text(2), change: f.rest(3) }),
  class: (d, f) => void d.classes.push({ id: f.text(0), verdict: f.verdict(1), reserve: f.maybe(2), sentence: f.rest(3) }),
  up: (d, f) => void d.up.push({ level: f.level(0), item: f.maybe(1), sentence: f.rest(2) }),
  missing: (d, f) => void d.missing.push(missingOf(f)),
  override: (d, f) => {
    d.override = { accepted: f.text(0) === 'accepted', level: f.level(1), sentence: f.rest(2) };
  },
  note: (d, f) => void d.notes.push(f.rest(0)),
  verdict: (d, f) =>
    void d.verdicts.push({
      control: f.text(0),
      site: f.text(1),
      indoors: f.verdict(2),
      outdoors: f.verdict(3),
      rank: f.number(4),
      role: oneOf(['main', 'fallback'] as const, f.text(5)),
      sentence: f.rest(6),
    }),
  why: (d, f) =>
    void d.whys.push({
      control: f.text(0),
      site: f.text(1),
      rule: f.text(2),
      where: oneOf(['indoors', 'outdoors'] as const, f.text(3)) ?? 'both',
      verdict: f.verdict(4),
      sentence: f.text(5),
      change: dashless(f.rest(6)),
    }),
  window: (d, f) => void d.windows.push({ state: f.text(0) === 'tired' ? 'tired' : 'rested', verdict: f.verdict(1), sentence: f.rest(2) }),
  load: (d, f) => {
    d.underLoad = { control: f.text(0), site: f.text(1), direction: f.maybe(2), share: f.number(3), sentence: f.rest(4), figures: [] };
    d.loads.push(d.underLoad);
  },
  basis: (d, f) => void d.bases.set(f.text(0), { figure: f.text(0), formula: f.text(1), source: f.text(2), status: f.rest(3) }),
  exposure: (d, f) => void d.exposures.push({ site: f.text(0), sentence: f.rest(1) }),
  'recheck-by': (d, f) => {
    d.recheckBy = { weeks: f.number(0), sentence: f.rest(1) };
  },
  passage: (d, f) =>
    void d.passages.push({
      place: f.text(0),
      fit: oneOf(['fits', 'tight', 'does-not-fit'] as const, hyphens(f.text(1))) ?? 'unknown',
      left: f.number(2),
      sentence: f.text(3),
      assumption: dashless(f.text(4)),
      reference: dashless(f.rest(5)),
    }),
  due: (d, f) => void d.due.push({ item: f.text(0), sentence: f.rest(1) }),
};

/**
 * Reads a result.
 *
 * @throws {ResultError} when the first line is not that of a result of format
 *   1, when no level is stated, or when a known line names an unknown level.
 */
export function parseResult(text: string): ResultView {
  const lines = text.split('\n').filter((line) => line !== '');
  const [kind, format, engine = '', rules = ''] = (lines[0] ?? '').split('\t');
  if (kind !== 'doorsill-result' || format !== '1') {
    throw new ResultError(`expected a result of format 1, got “${(lines[0] ?? 'nothing').slice(0, 60)}”`);
  }
  const draft = emptyDraft(engine, rules);
  for (const line of lines.slice(1)) {
    const [name = '', ...rest] = line.split('\t');
    const read = Object.hasOwn(READERS, name) ? READERS[name] : undefined;
    if (name !== 'figure') draft.underLoad = null;
    if (read) read(draft, fieldsOf(rest));
    else draft.unknown++;
  }
  const { levelSeen, underLoad: _, ...view } = draft;
  if (!levelSeen) throw new ResultError('expected a line that states the level, got none');
  return view;
}

/** Reads figure lines that stand alone, as the engine gives them for a run that is being driven. */
export function parseFigures(text: string): readonly Figure[] {
  const draft = emptyDraft('', '');
  for (const line of text.split('\n')) {
    const [name, ...rest] = line.split('\t');
    if (name === 'figure') READERS['figure']?.(draft, fieldsOf(rest));
  }
  return draft.figures;
}

function emptyDraft(engine: string, rules: string): Draft {
  return {
    engine,
    rules,
    level: 'pause',
    interim: false,
    sentence: '',
    levelSeen: false,
    gates: [],
    effects: [],
    domains: [],
    costs: [],
    items: new Map(),
    figures: [],
    control: null,
    reasons: [],
    classes: [],
    up: [],
    missing: [],
    override: null,
    notes: [],
    verdicts: [],
    whys: [],
    windows: [],
    loads: [],
    underLoad: null,
    bases: new Map(),
    exposures: [],
    recheckBy: null,
    passages: [],
    due: [],
    unknown: 0,
  };
}

function fieldsOf(parts: readonly string[]): Fields {
  const text = (i: number): string => parts[i] ?? '';
  const maybe = (i: number): string | null => (text(i) === '' || text(i) === '-' ? null : text(i));
  return {
    text,
    maybe,
    number: (i) => {
      const n = Number(maybe(i) ?? NaN);
      return Number.isFinite(n) ? n : null;
    },
    flag: (i) => text(i) === '1',
    level: (i) => levelOf(text(i)),
    verdict: (i) => verdictOf(text(i)),
    rest: (i) => parts.slice(i).join('\t'),
  };
}

function levelOf(id: string): LevelId {
  const found = LEVELS.find((level) => level === id);
  if (!found) throw new ResultError(`expected a level (${LEVELS.join(', ')}), got “${id}”`);
  return found;
}

function verdictOf(word: string): Verdict {
  return oneOf(['feasible', 'marginal', 'not-feasible'] as const, hyphens(word)) ?? 'unknown';
}

function oneOf<T extends string>(known: readonly T[], word: string): T | null {
  return known.find((one) => one === word) ?? null;
}

function hyphens(words: string): string {
  return words.replaceAll(' ', '-');
}

function dashless(text: string): string {
  return text === '-' ? '' : text;
}

function basisOf(word: string): Figure['basis'] {
  return word === 'measured' || word === 'assumed' ? word : 'missing';
}

function missingOf(f: Fields): Missing {
  const group = f.text(0);
  const what = f.text(1);
  const reading = what.startsWith('reading:');
  return {
    group: group === 'stop' || group === 'needed' ? group : 'useful',
    what: reading ? what.slice('reading:'.length) : what,
    reading,
    sentence: f.rest(2),
  };
}
