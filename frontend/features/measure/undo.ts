import { signal } from '@preact/signals';
import { onPersonLeft } from '../../lib';
import type { Kind, Reading, ReadingMarked, ReadingMoved } from '../../lib/model.gen';

/** An event that takes back another. */
export interface Correction {
  readonly kind: Kind;
  readonly body: ReadingMarked | ReadingMoved;
}

/** What was done last, and the events that take it back. */
export interface Step {
  /** What it was about, as on the button: "90". */
  readonly words: string;
  /** The slot that one was in. */
  readonly slot: string;
  readonly corrections: readonly Correction[];
}

const longest = 30;
const steps = signal<ReadonlyMap<string, readonly Step[]>>(new Map());
onPersonLeft(() => {
  steps.value = new Map();
});

const keyOf = (visit: string, what: string) => `${visit} ${what}`;

/** The steps of this person on this page at one kind of reading, newest last. */
export function stepsOf(visit: string, what: string): readonly Step[] {
  return steps.value.get(keyOf(visit, what)) ?? [];
}

export function rememberStep(visit: string, what: string, step: Step): void {
  steps.value = new Map([...steps.value, [keyOf(visit, what), [...stepsOf(visit, what), step].slice(-longest)]]);
}

export function forgetStep(visit: string, what: string, step: Step): void {
  steps.value = new Map([...steps.value, [keyOf(visit, what), stepsOf(visit, what).filter((one) => one !== step)]]);
}

export function setAside(reading: string, reason: string): Correction {
  return { kind: 'reading-marked', body: { reading, slip: true, reason } };
}

export function takeBackIn(reading: string): Correction {
  return { kind: 'reading-marked', body: { reading, slip: false } };
}

/** A reading's place as it is, for moving it there. */
export function movedTo(reading: Reading, to: Partial<Omit<ReadingMoved, 'reading'>>): Correction {
  const { ref, direction, state, switch: purpose, supported, note } = { ...reading, ...to };
  return {
    kind: 'reading-moved',
    body: {
      reading: ref,
      state,
      supported,
      ...(direction ? { direction } : {}),
      ...(purpose ? { switch: purpose } : {}),
      ...(note ? { note } : {}),
    },
  };
}
