/** What was found at each visit of one client, in the order of time. */
import { classWords } from '../../ui/control-classes';
import { effectiveLevel } from '../../ui/result/level-head';
import { isStop } from '../../ui/result/words';
import { itemIn } from '../../ui/result/items';
import { siteWords } from '../../ui/sites';
import { sentenceOf } from '../../ui/words';
import type { Definition, VisitView } from '../../lib';
import {
  directions,
  type Domain,
  type Quantity,
  type Result,
  type TrendConditions,
  type TrendPoint,
  type TrendQuestion,
  type Visit,
} from '../../lib/model.gen';

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
  readonly level: string;
  readonly interim: boolean;
  /** Control and site in words, empty when none was chosen. */
  readonly control: string;
  readonly stops: readonly string[];
  readonly domains: readonly Domain[];
  readonly pain: number | null;
  readonly hours: number | null;
  /** Weeks until delivery as expected at this visit. */
  readonly wait: number | null;
  /** Weeks to the next look by this visit alone. */
  readonly recheck: number | null;
  /** What the engine is asked about. */
  readonly points: readonly TrendPoint[];
}

const DAY_MS = 86_400_000;

/** The day of a time in UTC, counted from 1 January 1970. */
function dayOf(at: string): number {
  return Math.floor(Date.parse(at) / DAY_MS);
}

/** The date of a day, for the words of dates. */
export function dateOfDay(day: number): string {
  return new Date((day + 0.5) * DAY_MS).toISOString().slice(0, 10);
}

export function presentOf(views: readonly VisitView[]): Present | null {
  const setup = views.toReversed().find((view) => view.visit.setup)?.visit.setup;
  if (!setup) return null;
  const needed = setup.needed.length > 0 ? setup.needed : directions;
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

function momentOf(view: VisitView, result: Result, present: Present | null, changes: number): Moment {
  const { visit } = view;
  const day = dayOf(visit.started.at);
  const conditions = conditionsOf(visit, present, changes);
  return {
    visit: visit.id,
    at: visit.started.at,
    day,
    signed: visit.signed !== undefined,
    level: effectiveLevel(result),
    interim: result.interim === true,
    control: visit.setup ? controlWords(visit.setup) : '',
    stops: result.effects.filter((effect) => isStop(effect.effect)).map((effect) => sentenceOf(effect.message)),
    domains: result.domains,
    pain: painOf(visit),
    hours: visit.needs?.hours_driving ?? null,
    wait: visit.needs?.wait_weeks ?? null,
    recheck: result.recheck?.weeks ?? null,
    points: [...measured(result, present), ...scores(result), ...helps(result, view.checklist)].map((found) => ({
      day,
      ...found,
      conditions,
    })),
  };
}

/** The pain answer; of several that wait for a choice the highest. */
function painOf(visit: Visit): number | null {
  const heads = visit.answers.find((answer) => answer.item === 'ctl-pain')?.heads ?? [];
  const numbers = heads.flatMap((head) => (head.state === 'answered' && head.number !== undefined ? [head.number] : []));
  return numbers.length === 0 ? null : Math.max(...numbers);
}

type Found = Pick<TrendPoint, 'quantity' | 'value' | 'coverage'>;

/** The weakest needed direction at the present site, each needed one for the forecast, and the slowest release. */
function measured(result: Result, present: Present | null): readonly Found[] {
  const { quantities } = result;
  const find = (name: string, direction: string): Quantity | undefined =>
    quantities.find((one) => one.name === name && one.site === present?.site && one.direction === direction && one.value !== undefined);
  const least = (name: string): Quantity | undefined =>
    (present?.needed ?? []).flatMap((direction) => find(name, direction) ?? []).toSorted((a, b) => (a.value ?? 0) - (b.value ?? 0))[0];
  const direction = least('usable')?.direction ?? '';
  const usable = (present?.needed ?? []).filter((needed) => find('usable', needed));
  const found: readonly (readonly [string, Quantity | undefined])[] = [
    ['force-rested', find('mean-rested', direction)],
    ['force-tired', find('mean-tired', direction)],
    ...usable.flatMap((needed) => [
      [`force-rested-${needed}`, find('mean-rested', needed)] as const,
      [`force-tired-${needed}`, find('mean-tired', needed)] as const,
    ]),
    ['travel', least('travel')],
    ['release', quantities.find((one) => one.name === 'release')],
  ];
  return found.flatMap(([quantity, one]) => (one?.value === undefined ? [] : [{ quantity, value: one.value }]));
}

function scores(result: Result): readonly Found[] {
  return result.domains.flatMap(({ code, score, coverage }) =>
    score === undefined ? [] : [{ quantity: `domain-${code}`, value: score, coverage }],
  );
}

function helps(result: Result, checklist: Definition): readonly Found[] {
  return checklist.sections.flatMap((section) =>
    section.items.flatMap((item) => {
      const answer = itemIn(result, item.id);
      if (item.type !== 'help' || answer?.state !== 'answered' || answer.choice || !answer.level) return [];
      return [{ quantity: `help-${item.id}`, value: Number(answer.level) }];
    }),
  );
}

/** What must be the same for two numbers to be compared; empty where not known. */
function conditionsOf(visit: Visit, present: Present | null, changes: number): TrendConditions {
  const forces = visit.readings.filter((reading) => reading.what === 'force' && reading.site === present?.site && !reading.slip);
  const hour = new Date(visit.started.at).getHours();
  const { setup } = visit;
  return {
    support: forces.length === 0 ? '' : forces.some((reading) => reading.supported) ? 'held' : 'free',
    site: setup?.site ?? '',
    control: setup ? `${setup.class} ${setup.operate_gf}` : '',
    settings: String(changes),
    time_of_day: hour < 12 ? 'morning' : hour < 17 ? 'afternoon' : 'evening',
    rater: visit.started.by,
    checklist: visit.checklist.hash,
  };
}

/** The day on which the control is expected, by the latest visit that names a wait. */
export function deliveryOf(moments: readonly Moment[]): number | null {
  const last = moments.findLast((moment) => moment.wait !== null);
  return last?.wait == null ? null : last.day + Math.round(7 * last.wait);
}

/** The question to the engine; judged is the therapist's own figure for the loss of force a week. */
export function trendQuestion(moments: readonly Moment[], course: string, present: Present | null, judged?: number): TrendQuestion {
  const last = moments.at(-1);
  const delivery = deliveryOf(moments);
  return {
    course,
    ...(delivery !== null && last ? { wait_weeks: Math.max(0, Math.round((delivery - last.day) / 7)) } : {}),
    ...(judged === undefined ? {} : { judged_loss: judged }),
    ...(present && present.operate > 0 ? { needed_gf: present.operate } : {}),
    ...(last?.recheck ? { recheck_day: last.day, recheck_weeks: last.recheck } : {}),
    // Of two visits on one day the later stands for the day.
    points: moments.filter((one, i) => one.day !== moments[i + 1]?.day).flatMap((one) => one.points),
  };
}
