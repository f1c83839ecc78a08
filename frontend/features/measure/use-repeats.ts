import { useEffect, useRef } from 'preact/hooks';
import { useDraft, useSave, type Saver } from '../../ui';
import { usePlace } from '../../ui/address';
import { useLimits } from '../../ui/limits';
import type { VisitView } from '../../lib';
import type { Reading, Visit } from '../../lib/model.gen';
import * as desks from './desk';
import { changePlace, type MeasurePlace } from './place';
import type { Question } from './questions';
import { stillMarked, wantedOf, type Measurement, type Slot } from './slots';

export interface Repeats {
  readonly visit: Visit;
  readonly place: MeasurePlace;
  readonly unit: string;
  readonly decimals: number;
  readonly wanted: number;
  readonly counts: Readonly<Record<string, number>>;
  readonly current: Slot | undefined;
  readonly saver: Saver;
  readonly choose: (slot: string) => void;
  /** Measures at another site, state or support. */
  readonly setPlace: (part: Partial<MeasurePlace>) => void;
  readonly take: (value: number) => Promise<desks.Taken>;
  readonly isUsual: (value: number) => Promise<boolean>;
  /** Keeps it where it is like the others there. */
  readonly takeIfUsual: (value: number) => Promise<desks.Taken | { readonly kind: 'unusual' }>;
  readonly move: (readings: readonly Reading[], to: desks.Move, words: string) => void;
  readonly replace: (question: Question) => void;
  readonly confirm: (question: Question) => void;
  readonly undo: () => void;
  /** What undo would take back, as on its button; empty for nothing. */
  readonly undoWords: string;
}

/** Does one piece of work after the other, in the order in which it was asked for. */
function useLine() {
  const last = useRef<Promise<unknown>>(Promise.resolve());
  return <T>(work: () => Promise<T> | T): Promise<T> => {
    const done = last.current.then(work);
    last.current = done.catch(() => undefined);
    return done;
  };
}

/** Taking readings with repeats: which is next, and how each is kept, moved and taken back. */
export function useRepeats(view: VisitView, measurement: Measurement): Repeats {
  const asked = usePlace().query.direction;
  const { value: chosen, set: setChosen } = useDraft({ about: view.visit.id, name: `direction ${measurement.what}` }, '');
  useEffect(() => {
    if (asked) setChosen(asked);
  }, [asked]);
  const wanted = wantedOf(measurement, useLimits());
  const saver = useSave();
  const line = useLine();
  const changing = useRef({
    chosen,
    taken: [] as readonly Reading[],
    marks: new Map<string, string>() as ReadonlyMap<string, string>,
    view,
    wanted,
  });
  changing.current = { ...changing.current, chosen, view, wanted, marks: stillMarked(view.visit, changing.current.marks) };
  const desk: desks.Desk = {
    measurement,
    saver,
    get view() {
      return changing.current.view;
    },
    get wanted() {
      return changing.current.wanted;
    },
    get chosen() {
      return changing.current.chosen;
    },
    get taken() {
      return changing.current.taken;
    },
    choose: (slot) => {
      changing.current.chosen = slot;
      setChosen(slot);
    },
    get marks() {
      return changing.current.marks;
    },
    setTaken: (taken) => {
      changing.current.taken = taken;
    },
    setMarks: (marks) => {
      changing.current.marks = marks;
    },
  };
  return {
    visit: desks.visitAt(desk),
    place: desks.placeAt(desk),
    ...desks.unitAt(desk),
    wanted,
    counts: desks.countsAt(desk),
    current: desks.slotAt(desk),
    saver,
    choose: (slot) => void line(() => desk.choose(slot)),
    setPlace: (part) =>
      void line(() => {
        changePlace(view.visit, part);
        // A round begins with the first that is short; a tired one where the rested one did.
        desk.choose('');
      }),
    take: (value) => line(() => desks.take(desk, value)),
    takeIfUsual: (value) => line(async () => ((await desks.isUsual(desk, value)) ? desks.take(desk, value) : { kind: 'unusual' })),
    isUsual: (value) => line(() => desks.isUsual(desk, value)),
    move: (readings, to, words) => void line(() => desks.move(desk, readings, to, words)),
    replace: (question) => void line(() => desks.replace(desk, question)),
    confirm: (question) => void line(() => desks.confirm(desk, question)),
    undo: () => void line(() => desks.undo(desk)),
    undoWords: desks.stepAt(desk)?.words ?? '',
  };
}
