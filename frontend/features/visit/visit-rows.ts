/** What can be done in a visit besides its checklist, each with how far it is: the map and the rail show the same. */
import { needsAnswered } from '../../ui/needs';
import { links, measureTitles, type MeasureWhat } from '../../ui/visit/links';
import { countWords } from '../../ui/words';
import type { VisitView } from '../../lib';
import type { Setup } from '../../lib/model.gen';

export interface VisitRow {
  readonly href: string;
  readonly title: string;
  readonly state: string;
  /** How much of it is there, from 0 to 1. */
  readonly share?: number | undefined;
}

const measures: readonly MeasureWhat[] = ['force', 'travel', 'release', 'hold', 'unintended', 'switch'];
const switched: readonly MeasureWhat[] = ['command', 'stop-command', 'unasked', 'steps'];

/** What is measured with the control that is chosen. */
function measuresOf(setup: Setup | undefined): readonly MeasureWhat[] {
  switch (setup?.class) {
    case 'breath':
      return [...measures, ...switched, 'breath'];
    case 'switched':
    case 'scanning':
      return [...measures, ...switched];
    default:
      return [
        ...measures,
        ...(setup?.drive_mode === 'latched' ? (['stop-command'] as const) : []),
        ...(setup?.class === 'non-contact' ? (['unasked'] as const) : []),
      ];
  }
}

/** Measuring and driving. */
export function measureRows(view: VisitView): readonly VisitRow[] {
  const { visit } = view;
  const taken = (what: MeasureWhat) => {
    const kind = what === 'switch' ? 'switch-force' : what;
    return visit.readings.filter((reading) => reading.what === kind && !reading.slip).length;
  };
  const runs = visit.runs.filter((run) => !run.slip).length;
  return [
    { href: links.setup(visit.id), title: 'Control and place', state: visit.setup ? 'chosen' : 'not chosen', share: visit.setup ? 1 : 0 },
    ...measuresOf(visit.setup).map((what) => ({
      href: links.measure(visit.id, what),
      title: measureTitles[what],
      state: countWords(taken(what), 'reading'),
      share: taken(what) > 0 ? 1 : 0,
    })),
    { href: links.trial(visit.id), title: 'Driving trial', state: countWords(runs, 'run'), share: runs > 0 ? 1 : 0 },
  ];
}

function passagesWords(view: VisitView): string {
  const { places = [], chair } = view.visit;
  if (places.length > 0) return `${countWords(places.length, 'place')} measured`;
  return chair ? 'chair measured' : 'not measured';
}

function ranked(view: VisitView): number {
  return view.result?.choices.filter((one) => one.rank !== undefined).length ?? 0;
}

function rankedWords(view: VisitView): string {
  const count = ranked(view);
  return count === 0 ? 'nothing in order yet' : `${count} in the order of choice`;
}

/** From what was measured to what is chosen: needs, controls, strain, home, settings, mount. */
export function chooseRows(view: VisitView): readonly VisitRow[] {
  const { visit, result } = view;
  const needs = needsAnswered(visit.needs);
  const settings = visit.settings?.length ?? 0;
  const due = result?.due?.length ?? 0;
  return [
    { href: links.needs(visit.id), title: 'Needs', state: `${needs.done} of ${needs.of}`, share: needs.done / needs.of },
    { href: links.controls(visit.id), title: 'Controls', state: rankedWords(view), share: ranked(view) > 0 ? 1 : 0 },
    {
      href: links.strain(visit.id),
      title: 'Strain',
      state: result?.recheck?.weeks ? `look again in ${result.recheck.weeks} weeks` : 'loads and holding times',
      share: result?.recheck?.weeks ? 1 : 0,
    },
    {
      href: links.home(visit.id),
      title: 'Home',
      state: passagesWords(view),
      share: ((visit.places?.length ?? 0) > 0 ? 0.5 : 0) + (visit.chair ? 0.5 : 0),
    },
    {
      href: links.settings(visit.id),
      title: 'Settings',
      state: `${countWords(settings, 'change')}${due > 0 ? `, ${due} due again` : ''}`,
      share: settings > 0 ? 1 : 0,
    },
    { href: links.mount(visit.id), title: 'Mount', state: visit.mount ? 'noted' : 'not noted', share: visit.mount ? 1 : 0 },
  ];
}
