import type { Definition, Item } from '../../lib';
import type { Missing, WantedReading } from '../../lib/model.gen';

/** Addresses of the visit's screens. */
export const links = {
  client: (client: string) => `/clients/${client}`,
  start: (client: string) => `/clients/${client}/visit`,
  map: (visit: string) => `/visits/${visit}`,
  part: (visit: string, code: string) => `/visits/${visit}/part/${code}`,
  item: (visit: string, code: string, item: string) => `/visits/${visit}/part/${code}?item=${item}`,
  measure: (visit: string, what: MeasureWhat) => `/visits/${visit}/measure/${what}`,
  trial: (visit: string) => `/visits/${visit}/trial`,
  setup: (visit: string) => `/visits/${visit}/setup`,
  controls: (visit: string) => `/visits/${visit}/controls`,
  strain: (visit: string) => `/visits/${visit}/strain`,
  needs: (visit: string) => `/visits/${visit}/needs`,
  home: (visit: string) => `/visits/${visit}/home`,
  place: (visit: string, place: string) => `/visits/${visit}/home/${place}`,
  settings: (visit: string) => `/visits/${visit}/settings`,
  mount: (visit: string) => `/visits/${visit}/mount`,
  overTime: (client: string) => `/clients/${client}/over-time`,
  kit: '/kit',
  kitControl: (control: string) => `/kit/${control}`,
  notes: (visit: string) => `/visits/${visit}/notes`,
  missing: (visit: string) => `/visits/${visit}/missing`,
  level: (visit: string) => `/visits/${visit}/level`,
  sign: (visit: string) => `/visits/${visit}/sign`,
} as const;

/** What a measuring screen measures, as in its address. */
export type MeasureWhat =
  'force' | 'travel' | 'release' | 'hold' | 'unintended' | 'switch' | 'command' | 'stop-command' | 'unasked' | 'steps' | 'breath';

export const measureTitles: Readonly<Record<MeasureWhat, string>> = {
  force: 'Force',
  travel: 'Travel',
  release: 'Letting go',
  hold: 'Holding',
  unintended: 'Force not meant',
  switch: 'Switch force',
  command: 'Commands',
  'stop-command': 'Stop commands',
  unasked: 'Unasked commands',
  steps: 'Steps to a command',
  breath: 'Breath',
};

/** Where a computed item comes from: the words, and the screen that fills it. */
export interface Source {
  readonly words: string;
  readonly link: string;
  readonly href: (visit: string) => string;
}

function measured(what: MeasureWhat, words: string): Source {
  return { words, link: `Measure: ${measureTitles[what].toLowerCase()}`, href: (visit) => links.measure(visit, what) };
}

function driven(words: string): Source {
  return { words, link: 'Go to the driving trial', href: links.trial };
}

const sources: Readonly<Record<string, Source>> = {
  'force-reserve': measured('force', 'Worked out from the force readings at the chosen site and the force that the chosen control asks.'),
  'travel-reserve': measured(
    'travel',
    'Worked out from the travel readings at the chosen site and the travel that the chosen control asks.',
  ),
  spread: measured('force', 'Worked out from the repeats in the weakest needed direction.'),
  'tired-ratio': measured('force', 'Worked out from force readings taken rested and tired at the same site.'),
  hold: measured('hold', 'The shortest of the timed holds of the forward command.'),
  release: measured('release', 'The slowest of the timed releases; a missed one counts against it.'),
  noise: measured('unintended', 'Worked out from the force that was not meant and the force that starts the chair.'),
  'switch-reserve': measured('switch', 'Worked out from the switch force readings and the force that the switch asks.'),
  'presses-per-10-min': driven('Worked out from the switch presses that were not meant in the timed runs.'),
  'contacts-per-50-m': driven('Worked out from the contacts and the metres of the timed runs.'),
  'prompts-per-10-min': driven('Worked out from the prompts and the time of the runs.'),
  rescues: driven('Counted in the timed runs.'),
  'unmeant-per-20-m': driven('Worked out from the commands that were not meant and the metres of the runs on rough ground.'),
};

const elsewhere: Source = driven('Worked out from readings and runs.');

export function sourceOf(from: string): Source {
  return sources[from] ?? elsewhere;
}

const readingScreens: Readonly<Record<string, MeasureWhat>> = {
  force: 'force',
  travel: 'travel',
  hold: 'hold',
  release: 'release',
  unintended: 'unintended',
  'switch-force': 'switch',
  switch: 'switch',
};

/** Where what is no reading is filled in. */
const blankScreens: Readonly<Record<string, (visit: string) => string>> = {
  setup: links.setup,
  run: links.trial,
  consent: links.notes,
  'stop-holder': links.notes,
  home: links.home,
  mount: links.mount,
  settings: links.settings,
  plan: links.sign,
};

type Found = { readonly code: string; readonly item: Item };
const byChecklist = new WeakMap<Definition, ReadonlyMap<string, Found>>();

/** The part of the checklist that an item stands in, with the item. */
export function findItem(checklist: Definition, id: string): Found | undefined {
  let items = byChecklist.get(checklist);
  if (!items) {
    items = new Map(checklist.sections.flatMap((section) => section.items.map((item) => [item.id, { code: section.code, item }])));
    byChecklist.set(checklist, items);
  }
  return items.get(id);
}

function readingLink(visit: string, reading: WantedReading): string {
  const { what, site, direction } = reading;
  const filledIn = blankScreens[what];
  if (filledIn !== undefined) return filledIn(visit);
  const screen = readingScreens[what];
  if (screen === undefined) return links.map(visit);
  const asked = new URLSearchParams();
  if (site) asked.set('site', site);
  if (direction) asked.set('direction', direction);
  const query = asked.toString();
  return `${links.measure(visit, screen)}${query === '' ? '' : `?${query}`}`;
}

/** Where an item of the checklist is answered or measured; nothing for one that it does not have. */
export function itemLink(visit: string, checklist: Definition, id: string): string | undefined {
  const found = findItem(checklist, id);
  if (found === undefined) return undefined;
  return found.item.from === undefined ? links.item(visit, found.code, found.item.id) : sourceOf(found.item.from).href(visit);
}

/** Where a missing thing can be filled in. */
export function missingLink(visit: string, checklist: Definition, missing: Missing): string {
  if (missing.reading) return readingLink(visit, missing.reading);
  return itemLink(visit, checklist, missing.item ?? '') ?? links.map(visit);
}
