import { formDrafts } from '../../lib/form-drafts';
import type { Visit } from '../../lib/model.gen';
import type { Asked } from '../../ui/judge';

/** A reading that is kept and that somebody is asked about, because it is not like the others. */
export interface Question extends Asked {
  readonly ref: string;
  readonly slot: string;
}

const nameOf = (what: string) => `questions ${what}`;

/** What waits for an answer at one kind of reading of a visit, the oldest first; also after the page was left or killed. */
function questionsOf(visit: string, what: string): readonly Question[] {
  return (formDrafts.of(visit).value[nameOf(what)]?.value ?? []) as readonly Question[];
}

/** The questions go with where somebody was: the reading that they are about is saved. */
function put(visit: string, what: string, list: readonly Question[]): void {
  formDrafts.put(visit, nameOf(what), list.length === 0 ? undefined : { value: list, before: [] });
}

export function askAbout(visit: string, what: string, question: Question): void {
  put(visit, what, [...questionsOf(visit, what), question]);
}

/** What is still to be asked: of a reading that was set aside meanwhile, nothing. */
export function openQuestions(visit: Pick<Visit, 'id' | 'readings'>, what: string): readonly Question[] {
  return questionsOf(visit.id, what).filter((one) => visit.readings.some((reading) => reading.ref === one.ref && !reading.slip));
}

/** Nothing more is asked about a reading. */
export function settle(visit: string, what: string, ref: string): void {
  const open = questionsOf(visit, what);
  if (open.some((one) => one.ref === ref))
    put(
      visit,
      what,
      open.filter((one) => one.ref !== ref),
    );
}
