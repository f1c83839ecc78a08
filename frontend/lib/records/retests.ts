import { retestItems, retests, type Given, type Reading, type Stamp } from '../model.gen';
import { tabletOf } from './event';

/** Answers to it are due again; the other one is computed from the releases. */
const [, stopCallItem] = retestItems;

export interface Retests {
  /** Takes in a change of a setting; true when stopping must be shown again. */
  readonly change: (stamp: Stamp, key: string) => boolean;
  /** Marks what stood before the change. */
  readonly dueReading: (reading: Reading) => Reading;
  readonly dueAnswer: (given: Given) => Given;
  /** Marks what was said without having seen another tablet's change. */
  readonly reading: (reading: Reading, seen: number) => Reading;
  readonly answer: (given: Given, seen: number) => Given;
}

/** Keeps track of what must be tried again because a setting was changed. */
export function createRetests(): Retests {
  const changes: Stamp[] = [];

  /** A tablet's own statements are in the order in which they were made. */
  const overtaken = (stamp: Stamp, seen: number): boolean =>
    changes.some((one) => tabletOf(one.ref) !== tabletOf(stamp.ref) && (one.pos === 0 || one.pos > seen));

  const dueReading = (reading: Reading): Reading => (reading.what === 'release' ? { ...reading, due: true } : reading);
  const dueAnswer = (given: Given): Given => (given.item === stopCallItem && given.state === 'answered' ? { ...given, due: true } : given);

  return {
    change: (stamp, key) => {
      const matters = (retests as readonly string[]).includes(key);
      if (matters) changes.push(stamp);
      return matters;
    },
    dueReading,
    dueAnswer,
    reading: (reading, seen) => (overtaken(reading, seen) ? dueReading(reading) : reading),
    answer: (given, seen) => (overtaken(given, seen) ? dueAnswer(given) : given),
  };
}
