import { signal, type ReadonlySignal, type Signal } from '@preact/signals';
import { same } from '../draft/merge';
import { findClock, sleptOf, stopClock, touchClock, joinClocks, type Moment } from './clock';
import { isBegun, freshTrial, readTrial, type TrialDraft } from './trial-draft';

/** A run in the making as screens see it. */
interface TrialView {
  readonly draft: TrialDraft;
  /** Milliseconds that nobody watched, found after the page was gone or the tablet slept; 0 when settled, null when nobody can tell. */
  readonly unwatched: number | null;
}

/** Where drafts lie: encrypted on the tablet; a test gives a plain map. */
export interface DraftBox {
  readonly load: (key: string) => unknown;
  readonly keep: (key: string, value: unknown) => void;
  readonly drop: (key: string) => void;
  readonly failing: ReadonlySignal<ReadonlySet<string>>;
}

interface TrialStore {
  /** The run of a visit, taken up from where it was left. */
  readonly of: (visit: string) => Signal<TrialView>;
  /** Changes it and writes it down; the screen does not wait for that. */
  readonly change: (visit: string, change: (draft: TrialDraft) => TrialDraft) => void;
  /** The person has decided about the unwatched time. */
  readonly settle: (visit: string) => void;
  /** Marks a running clock as watched. */
  readonly watch: (visit: string) => void;
  /** False when the browser did not keep the last touch. */
  readonly kept: (visit: string) => boolean;
  /** Forgets every run in memory: the tablet was locked, or somebody else is at it. */
  readonly forget: () => void;
}

/** The row of the conditions of a run that was not begun; see isPlaceRow. */
const conditions = (visit: string): string => `at:${visit}:run`;

export function createTrialStore(box: DraftBox, moment: () => Moment): TrialStore {
  const runs = new Map<string, Signal<TrialView>>();
  const open = (visit: string): Signal<TrialView> => {
    const draft = readTrial(box.load(visit) ?? box.load(conditions(visit)));
    const found = findClock(draft.clock, moment());
    const view = signal<TrialView>({ draft: { ...draft, clock: found.clock }, unwatched: found.unwatched });
    runs.set(visit, view);
    return view;
  };
  const of = (visit: string) => runs.get(visit) ?? open(visit);
  const change: TrialStore['change'] = (visit, how) => {
    const view = of(visit);
    const at = moment();
    const changed = how(view.value.draft);
    const draft = { ...changed, clock: touchClock(changed.clock, at) };
    const { unwatched } = view.value;
    const left = unwatched === null ? null : unwatched + sleptOf(view.value.draft.clock, at);
    view.value = { draft, unwatched: isBegun(draft) ? left : 0 };
    // Where the next run will be is kept too, but is no unsaved work.
    const [row, other] = isBegun(draft) ? [visit, conditions(visit)] : [conditions(visit), visit];
    if (row === visit || !same(draft, { ...freshTrial, clock: draft.clock })) box.keep(row, draft);
    else box.drop(row);
    box.drop(other);
  };
  const running = () => [...runs].filter(([, view]) => view.value.draft.clock.since !== null).map(([visit]) => visit);
  joinClocks(
    () => {
      for (const visit of running()) change(visit, (draft) => ({ ...draft, clock: stopClock(draft.clock, moment().now) }));
    },
    () => running().length > 0,
  );
  return {
    of,
    change,
    settle: (visit) => {
      const view = of(visit);
      view.value = { ...view.value, unwatched: 0 };
    },
    watch: (visit) => {
      if (of(visit).value.draft.clock.since !== null) change(visit, (draft) => draft);
    },
    kept: (visit) => !box.failing.value.has(visit),
    forget: () => runs.clear(),
  };
}
