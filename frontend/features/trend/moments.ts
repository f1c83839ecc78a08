/** What was found at each visit of one client, in the order of time. */
import { classWords } from '../../ui/control-classes';
import { effectiveLevel } from '../../ui/result/level-head';
import { isStop } from '../../ui/result/words';
import { siteWords } from '../../ui/sites';
import type { Definition, VisitView } from '../../lib';
import type { DomainScore, Figure, LevelId, ResultView } from '../../lib/engine/result';
import { shortest } from '../../lib/engine/visit-text';
import type { Visit } from '../../lib/model.gen';

/** The site and the force of the control that is planned now: the set-up of the latest visit that has one. */
export interface Present {
  readonly words: string;
  readonly site: string;
  readonly needed: readonly string[];
  readonly operate: number;
}

export interface Moment {
  readonly visit: string;
  readonly at: string;
  /** Days since 1 January 1970, in UTC, so that the server counts the same. */
  readonly day: number;
  readonly signed: boolean;
  readonly level: LevelId;
  readonly interim: boolean;
  /** Control and site in words, empty when none was chosen. */
  readonly control: string;
  readonly stops: readonly string[];
  readonly domains: readonly DomainScore[];
  readonly pain: number | null;
  readonly hours: number | null;
  /** Weeks until delivery as expected at this visit. */
  readonly wait: number | null;
  /** Weeks to the next look by this visit alone. */
  readonly recheck: number | null;
  /** What the engine is asked about: figure, value and unit. */
  readonly points: readonly (readonly [figure: string, value: string, unit: string])[];
  readonly conditions: string;
}

const DAY_MS = 86_400_000;

/** The day of a time in UTC, counted from 1 January 1970. */
export function dayOf(at: string): number {
  return Math.floor(Date.parse(at) / DAY_MS);
}

/** The date of a day, for the words of dates. */
export function dateOfDay(day: number): string {
  return new Date((day + 0.5) * DAY_MS).toISOString().slice(0, 10);
}

export function presentOf(views: readonly VisitView[]): Present | null {
  const setup = views.toReversed().find((view) => view.visit.setup)?.visit.setup;
  if (!setup) return null;
  const needed = setup.needed.length > 0 ? setup.needed : ['forward', 'reverse', 'left', 'right'];
  return { words: controlWords(setup), site: setup.site, needed, operate: setup.operate_gf };
}

function controlWords(setup: NonNullable<Visit['setup']>): string {
  return `${setup.control ?? classWords(setup.class)}, ${siteWords(setup.site)}`;
}

/** One moment a visit that has a result; views are in the order of time. */
export function momentsOf(views: readonly VisitView[]): readonly Moment[] {
  const present = presentOf(views);
  let changes = 0;
  return views.flatMap((view) => {
    changes += view.visit.settings?.length ?? 0;
    return view.result ? [momentOf(view, view.result, present, changes)] : [];
  });
}

function momentOf(view: VisitView, result: ResultView, present: Present | null, changes: number): Moment {
  const { visit } = view;
  return {
    visit: visit.id,
    at: visit.started.at,
    day: dayOf(visit.started.at),
    signed: visit.signed !== undefined,
    level: effectiveLevel(result),
    interim: result.interim,
    control: visit.setup ? controlWords(visit.setup) : '',
    stops: result.effects.filter((effect) => isStop(effect.effect)).map((effect) => effect.sentence),
    domains: result.domains,
    pain: painOf(visit),
    hours: visit.needs?.hours_driving ?? null,
    wait: visit.needs?.wait_weeks ?? null,
    recheck: result.recheckBy?.weeks ?? null,
    points: [...measured(result, present), ...scores(result), ...helps(result, view.checklist)],
    conditions: conditionsOf(visit, present, changes),
  };
}

/** The pain answer; of several that wait for a choice the highest. */
function painOf(visit: Visit): number | null {
  const heads = visit.answers.find((answer) => answer.item === 'ctl-pain')?.heads ?? [];
  const given = heads.flatMap((head) => (head.state === 'answered' && head.number !== undefined ? [head.number] : []));
  return given.length === 0 ? null : Math.max(...given);
}

type Point = readonly [figure: string, value: string, unit: string];

/** The weakest needed direction at the present site, and the slowest release. */
function measured(result: ResultView, present: Present | null): readonly Point[] {
  const { figures } = result;
  const find = (name: string, direction: string): Figure | undefined =>
    figures.find((one) => one.name === name && one.site === present?.site && one.direction === direction && one.value !== null);
  const weakest = (present?.needed ?? [])
    .flatMap((direction) => find('usable', direction) ?? [])
    .reduce<Figure | undefined>((least, one) => (least && Number(least.value) <= Number(one.value) ? least : one), undefined);
  const travels = (present?.needed ?? []).flatMap((direction) => find('travel', direction) ?? []);
  const direction = weakest?.direction ?? '';
  const points: [string, Figure | undefined][] = [
    ['force-rested', find('mean-rested', direction)],
    ['force-tired', find('mean-tired', direction)],
    ['travel', travels.toSorted((a, b) => Number(a.value) - Number(b.value))[0]],
    ['release', figures.find((one) => one.name === 'release')],
  ];
  return points.flatMap(([name, figure]) => (figure?.value ? [[name, figure.value, figure.unit] as const] : []));
}

function scores(result: ResultView): readonly Point[] {
  return result.domains.flatMap(({ code, score, coverage }) =>
    score === null ? [] : [[`domain-${code}`, `${shortest(score)}/${shortest(coverage)}`, 'points'] as const],
  );
}

function helps(result: ResultView, checklist: Definition): readonly Point[] {
  return checklist.sections.flatMap((section) =>
    section.items.flatMap((item) => {
      const answer = result.items.get(item.id);
      if (item.type !== 'help' || answer?.state !== 'answered' || answer.needsChoice || answer.band === null) return [];
      return [[`help-${item.id}`, answer.band, 'level'] as const];
    }),
  );
}

/** Support, site, control, settings, time of day, rater and checklist version; empty where not known. */
function conditionsOf(visit: Visit, present: Present | null, changes: number): string {
  const forces = visit.readings.filter((reading) => reading.what === 'force' && reading.site === present?.site && !reading.slip);
  const support = forces.length === 0 ? '' : forces.some((reading) => reading.supported) ? 'held' : 'free';
  const hour = new Date(visit.started.at).getHours();
  const time = hour < 12 ? 'morning' : hour < 17 ? 'afternoon' : 'evening';
  const { setup } = visit;
  return [
    support,
    setup?.site ?? '',
    setup ? `${setup.class} ${shortest(setup.operate_gf)}` : '',
    String(changes),
    time,
    visit.started.by,
    visit.checklist.hash,
  ].join('|');
}

/** The day on which the control is expected, by the latest visit that names a wait. */
export function deliveryOf(moments: readonly Moment[]): number | null {
  const last = moments.findLast((moment) => moment.wait !== null);
  return last?.wait == null ? null : last.day + Math.round(7 * last.wait);
}

/** The question to the engine. */
export function trendText(moments: readonly Moment[], course: string, present: Present | null, judged: string): string {
  const last = moments.at(-1);
  const delivery = deliveryOf(moments);
  const lines = [`course\t${course}`];
  if (delivery !== null && last) lines.push(`wait\t${shortest(Math.max(0, Math.round((delivery - last.day) / 7)))}`);
  if (judged !== '') lines.push(`judged\t${judged}`);
  if (present && present.operate > 0) lines.push(`needed\t${shortest(present.operate)}`);
  if (last?.recheck) lines.push(`recheck\t${last.day}\t${last.recheck}`);
  // Of two visits on one day the later stands for the day.
  for (const moment of moments.filter((one, i) => one.day !== moments[i + 1]?.day)) {
    for (const [figure, value, unit] of moment.points) lines.push(['point', moment.day, figure, value, unit, moment.conditions].join('\t'));
  }
  return `${lines.join('\n')}\n`;
}
