/**
 * What is counted or timed by touch and not an entry yet: the order of the touches, so
 * that the last one can be taken back, and a clock where one runs. It is a draft like
 * what stands in a form, written on every touch.
 */
import type { FormDraft, FormDraftStore } from '../draft/form-drafts';
import * as v from '../schema';
import {
  addGap,
  elapsedOf,
  findClock,
  freshClock,
  joinClocks,
  startClock,
  stopClock,
  touchClock,
  readClock,
  type Clock,
  type Moment,
} from './clock';

export interface TouchCount {
  readonly clock: Clock;
  /** Which button, oldest first. */
  readonly taps: readonly string[];
  /** Milliseconds after which its clock has ended by itself, also while no screen shows it. */
  readonly ends?: number | undefined;
}

export const freshCount: TouchCount = { clock: freshClock, taps: [] };

/** More than anybody counts in one go. */
const mostTaps = 999;

export function tap(count: TouchCount, which: string): TouchCount {
  return count.taps.length < mostTaps ? { ...count, taps: [...count.taps, which] } : count;
}

export function untap(count: TouchCount): TouchCount {
  return { ...count, taps: count.taps.slice(0, -1) };
}

export function tapsOf(count: TouchCount, which: string): number {
  return count.taps.filter((one) => one === which).length;
}

/** The clock starts with a touch of its own, or with the first that is counted. */
export function start(count: TouchCount, now: number): TouchCount {
  return { ...count, clock: startClock(count.clock, now) };
}

export function stop(count: TouchCount, now: number): TouchCount {
  return { ...count, clock: stopClock(count.clock, now) };
}

/** How many a minute that is, to a tenth; 0 while no time has passed. */
export function perMinute(taps: number, milliseconds: number): number {
  return milliseconds <= 0 ? 0 : Math.round((taps * 600_000) / milliseconds) / 10;
}

export function isFreshCount(count: TouchCount): boolean {
  return count.taps.length === 0 && count.clock.since === null && count.clock.carried === 0;
}

/** Reads a count that was kept; what is damaged becomes fresh. */
export const readCountDraft: v.Schema<TouchCount> = v.fallback(
  v.object({ clock: readClock, taps: v.fallback(v.list(v.string), []), ends: v.fallback(v.optional(v.number), undefined) }),
  freshCount,
);

/** Which count it is: a draft about a visit, with a title where leaving it is leaving work. */
export interface CountOf {
  readonly about: string;
  readonly name: string;
  readonly title: string;
}

/** A count as screens see it. */
export interface CountView {
  readonly count: TouchCount;
  /** Milliseconds that nobody watched its clock, which stands since; 0 when that was decided, null when nobody can tell. */
  readonly unwatched: number | null;
}

export interface Counters {
  readonly of: (which: CountOf) => CountView;
  readonly change: (which: CountOf, change: (count: TouchCount) => TouchCount) => void;
  /** The clock that stood ran on all the while. */
  readonly goOn: (which: CountOf) => void;
  /** Marks the running clocks of a visit as watched. */
  readonly watch: (about: string) => void;
  /** A clock runs: the tablet is not to lock itself. */
  readonly running: () => boolean;
  /** Forgets what is in memory: the tablet was locked, or somebody else is at it. */
  readonly forget: () => void;
}

/** Counts among the drafts of a visit. */
const PREFIX = 'count:';

/** The name of the count that a draft is, or undefined where it is none. */
export function countNamed(draft: string): string | undefined {
  return draft.startsWith(PREFIX) ? draft.slice(PREFIX.length) : undefined;
}

interface Deps {
  readonly drafts: Pick<FormDraftStore, 'of' | 'put' | 'flush'>;
  readonly moment: () => Moment;
  /** The address of the screen that is shown. */
  readonly path: () => string;
}

export function createCounters({ drafts, moment, path }: Deps): Counters {
  /** When this page first looked at the counts of a visit: a clock that was last seen long before stands. */
  const looked = new Map<string, Moment>();
  const now = () => moment().now;
  /** What this page changed itself since: no gap is looked for there, whatever becomes of the tablet's clock. */
  const own = new Set<string>();
  const look = (about: string): Moment => {
    const at = looked.get(about) ?? moment();
    looked.set(about, at);
    return at;
  };
  const view = (about: string, name: string, draft: FormDraft | undefined): CountView => {
    const kept = readCountDraft(draft?.value);
    const at = look(about);
    if (own.has(`${about} ${name}`)) return { count: kept, unwatched: 0 };
    const found = findClock(kept.clock, at);
    return { count: { ...kept, clock: found.clock }, unwatched: found.unwatched };
  };
  const runs = (count: TouchCount) =>
    count.clock.since !== null && (count.ends === undefined || elapsedOf(count.clock, now()) < count.ends);
  /** The names of the drafts of a visit whose clock runs. */
  const running = (about: string): readonly string[] =>
    Object.entries(drafts.of(about).peek())
      .filter(([name, draft]) => name.startsWith(PREFIX) && runs(view(about, name, draft).count))
      .map(([name]) => name);
  const put = (about: string, name: string, changed: TouchCount, as: Pick<FormDraft, 'title' | 'path'>): void => {
    const value: TouchCount = { ...changed, clock: touchClock(changed.clock, moment()) };
    own.add(`${about} ${name}`);
    drafts.put(about, name, isFreshCount(value) ? undefined : { value, before: null, title: as.title, path: as.path });
  };
  const draftOf = ({ about, name }: CountOf) => drafts.of(about).peek()[PREFIX + name];
  const change: Counters['change'] = (which, how) => {
    const { about, name, title } = which;
    put(about, PREFIX + name, how(view(about, PREFIX + name, draftOf(which)).count), { title, path: path() });
    drafts.flush();
  };
  /** Changes those that run, wherever they were begun. */
  const changeRunning = (about: string, how: (count: TouchCount) => TouchCount): void => {
    for (const name of running(about)) {
      const draft = drafts.of(about).peek()[name];
      if (draft !== undefined) put(about, name, how(view(about, name, draft).count), draft);
    }
  };
  const anyRuns = () => [...looked.keys()].some((about) => running(about).length > 0);
  joinClocks(() => {
    for (const about of looked.keys()) changeRunning(about, (count) => stop(count, now()));
  }, anyRuns);
  return {
    of: ({ about, name }) => view(about, PREFIX + name, drafts.of(about).value[PREFIX + name]),
    change,
    goOn: (which) => {
      const { count, unwatched } = view(which.about, PREFIX + which.name, draftOf(which));
      if (unwatched === null || unwatched === 0) return;
      const since = now() - look(which.about).now;
      change(which, () => start({ ...count, clock: addGap(count.clock, unwatched + since) }, now()));
    },
    watch: (about) => {
      look(about);
      changeRunning(about, (count) => count);
    },
    running: anyRuns,
    forget: () => {
      looked.clear();
      own.clear();
    },
  };
}
