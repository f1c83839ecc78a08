import { signal } from '@preact/signals';
import { onPersonLeft } from '../../lib';
import type { Asked } from '../../ui/judge';

/** A reading that is kept and that somebody is asked about, because it is not like the others. */
export interface Question extends Asked {
  readonly ref: string;
  readonly slot: string;
}

const questions = signal<ReadonlyMap<string, readonly Question[]>>(new Map());
onPersonLeft(() => {
  questions.value = new Map();
});

const keyOf = (visit: string, what: string) => `${visit} ${what}`;

/** What waits for an answer at one kind of reading of a visit, the oldest first. */
export function questionsOf(visit: string, what: string): readonly Question[] {
  return questions.value.get(keyOf(visit, what)) ?? [];
}

export function askAbout(visit: string, what: string, question: Question): void {
  questions.value = new Map([...questions.value, [keyOf(visit, what), [...questionsOf(visit, what), question]]]);
}

/** Nothing more is asked about a reading. */
export function settle(visit: string, what: string, ref: string): void {
  questions.value = new Map([...questions.value, [keyOf(visit, what), questionsOf(visit, what).filter((one) => one.ref !== ref)]]);
}
