import { controlItems, type AnswerGiven, type Kind, type ReadingTaken, type RunTimed, type Visit } from '../model.gen';

/** The control and site that something was found with, as entries name it. */
export interface InUse {
  readonly class?: string;
  readonly control?: string;
  readonly site?: string;
}

const ofControl: ReadonlySet<string> = new Set(['hold', 'release', 'unintended', 'command', 'stop-command', 'unasked', 'steps', 'breath']);

/** Names the control and site of the set-up in an entry that is about them. */
export function withInUse(visit: Pick<Visit, 'setup'>, kind: Kind, said: unknown): unknown {
  const { setup } = visit;
  if (setup === undefined) return said;
  const control = { class: setup.class, ...(setup.control === undefined ? {} : { control: setup.control }) };
  switch (kind) {
    case 'run-timed':
      return { ...(said as RunTimed), ...control, site: setup.site };
    case 'reading-taken': {
      const reading = said as ReadingTaken;
      return ofControl.has(reading.what) && reading.site === setup.site ? { ...reading, ...control } : reading;
    }
    case 'answer-given': {
      const { class: _, control: __, site: ___, ...answer } = said as AnswerGiven;
      return (controlItems as readonly string[]).includes(answer.item) ? { ...answer, ...control, site: setup.site } : said;
    }
    default:
      return said;
  }
}

/** Whether an entry may be about the control and site of the set-up; what nobody said keeps nothing apart. */
export function isInUse(entry: InUse, setup: InUse | undefined): boolean {
  if (setup === undefined) return true;
  const alike = (a = '', b = '') => a === b || a === '' || b === '';
  return alike(entry.site, setup.site) && alike(entry.class, setup.class) && alike(entry.control, setup.control);
}
