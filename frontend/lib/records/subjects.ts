/**
 * Folds subjects with the tablet's program, off the way of whoever writes: one
 * question at a time for each subject, and of many changes the newest counts.
 * Nothing depends on the program's answer but what is shown: while there is none,
 * the events are on the disk and the subject's row is marked.
 */
import type { StoredEvent } from '../database/event';
import { EngineEnded } from '../engine/engine';
import { StoreError } from '../errors';
import type { Folded, Folds } from './folds';
import type { ReadEvents } from './snapshots';

interface SubjectsDeps<T> {
  /** Reads a subject's events from the disk. */
  readonly read: (subject: string) => Promise<ReadEvents>;
  readonly folds: Folds;
  /** Shows what was folded, and gives what stands for it. */
  readonly take: (subject: string, held: ReadEvents, folded: Folded | null) => Promise<T>;
  /** There is no fold of the events as they are now. */
  readonly failed: (subject: string, error: unknown) => void;
  readonly setTimer: (run: () => void, ms: number) => unknown;
}

export interface Subjects<T> {
  /** The subject's events; they stay in memory from now on. */
  readonly held: (subject: string) => Promise<ReadEvents>;
  /** Takes the place of what is in memory; null reads it from the disk again. Folds. */
  readonly changed: (subject: string, held: ReadEvents | null) => Promise<void>;
  /** Resolves when the subject is folded as it is, or could not be. */
  readonly fold: (subject: string) => Promise<void>;
  /** Reads subjects from the disk and folds them; also those that could not be folded before. */
  readonly refold: (subjects: Iterable<string>) => void;
  /** What stands for the subject as it is now; undefined when it could not be folded. */
  readonly current: (subject: string) => Promise<T | undefined>;
  readonly isCurrent: (subject: string, one: T) => boolean;
  /** Resolves when nothing is being folded or waits for it. */
  readonly settled: () => Promise<void>;
  readonly drop: (subject: string) => void;
  readonly close: () => void;
}

interface Job {
  again: boolean;
  done: Promise<void>;
}

/** Questions that the program gets at once, so that it does not wait for the disk. */
const AT_ONCE = 4;
/** A program that ends this often in a row, or records that cannot be read: what is left waits for the next time. */
const MOST_LOST = 4;
/** What could not be folded is tried again after this long, and after twice as long each time that it cannot. */
const RETRY_AFTER_MS = 5_000;
const MOST_RETRY_MS = 60_000;

/** Events in memory; those of other subjects are read when they are folded. */
function createHeld(fromDisk: SubjectsDeps<unknown>['read']) {
  const kept = new Map<string, Promise<ReadEvents>>();
  const readAgain = (subject: string): Promise<ReadEvents> => {
    const reading = fromDisk(subject);
    kept.set(subject, reading);
    reading.catch(() => {
      if (kept.get(subject) === reading) kept.delete(subject);
    });
    return reading;
  };
  return {
    kept,
    readAgain,
    keep: (subject: string): Promise<ReadEvents> => kept.get(subject) ?? readAgain(subject),
    read: (subject: string): Promise<ReadEvents> => kept.get(subject) ?? fromDisk(subject),
  };
}

/** Runs the folds of each subject one after another; what is asked for meanwhile is one more turn. */
function createJobs(turn: (subject: string, overtaken: () => boolean) => Promise<void>, over: (subject: string) => void) {
  const jobs = new Map<string, Job>();
  const run = async (subject: string, job: Job): Promise<void> => {
    while (job.again) {
      job.again = false;
      await turn(subject, () => job.again);
    }
    jobs.delete(subject);
    over(subject);
  };
  return {
    jobs,
    fold: (subject: string): Promise<void> => {
      const under = jobs.get(subject);
      if (under !== undefined) {
        under.again = true;
        return under.done;
      }
      const job: Job = { again: true, done: Promise.resolve() };
      jobs.set(subject, job);
      job.done = run(subject, job);
      return job.done;
    },
  };
}

/** Works through what is put into it, each once, a few at a time; whoever puts something in does not wait. */
function createQueue(work: (subject: string) => Promise<void>) {
  const queue = new Set<string>();
  let running = 0;
  let done: Promise<unknown> = Promise.resolve();
  const run = async (): Promise<void> => {
    for (const subject of queue) {
      queue.delete(subject);
      await work(subject);
    }
    running -= 1;
  };
  return {
    put: (subjects: Iterable<string>): void => {
      for (const subject of subjects) queue.add(subject);
      while (running < AT_ONCE && queue.size > 0) {
        running += 1;
        done = Promise.all([done, run()]);
      }
    },
    isBusy: (): boolean => running > 0,
    /** Resolves when what is in it now has been worked through. */
    done: (): Promise<unknown> => done,
  };
}

/** Nothing can be read from the disk until the records open again. */
export function areRecordsGone(error: unknown): boolean {
  return error instanceof StoreError && (error.code === 'lost' || error.code === 'deleted');
}

/** Counts folds in a row that failed for no reason of their own, and has what is left tried again later. */
function createFailures(setTimer: SubjectsDeps<unknown>['setTimer'], again: () => void) {
  let lost = 0;
  /** What was read before the records were gone may still be folded: that says nothing of them. */
  let gone = false;
  let waiting = false;
  let pause = RETRY_AFTER_MS;
  return {
    tooMany: (): boolean => gone || lost >= MOST_LOST,
    clear: (): void => {
      lost = 0;
      pause = RETRY_AFTER_MS;
    },
    add: (error: unknown): void => {
      if (error instanceof EngineEnded) lost += 1;
      if (areRecordsGone(error)) gone = true;
      if (waiting) return;
      waiting = true;
      setTimer(() => {
        [lost, gone, waiting] = [0, false, false];
        again();
      }, pause);
      pause = Math.min(2 * pause, MOST_RETRY_MS);
    },
  };
}

export function createSubjects<T>(deps: SubjectsDeps<T>): Subjects<T> {
  const { folds } = deps;
  const { kept, keep, read, readAgain } = createHeld(deps.read);
  const current = new Map<string, T>();
  const unfolded = new Set<string>();
  let closed = false;
  const isClosed = (): boolean => closed;
  const failures = createFailures(deps.setTimer, () => {
    queue.put(unfolded);
  });

  const foldOnce = async (subject: string, overtaken: () => boolean): Promise<void> => {
    current.delete(subject);
    if (closed) return;
    try {
      const held = await read(subject);
      const folded = await folds.fold(subject, held);
      if (overtaken() || isClosed()) return;
      const one = await deps.take(subject, held, folded);
      if (kept.has(subject)) current.set(subject, one);
      unfolded.delete(subject);
      failures.clear();
    } catch (error) {
      if (overtaken() || isClosed()) return;
      unfolded.add(subject);
      deps.failed(subject, error);
      failures.add(error);
    }
  };
  const { jobs, fold } = createJobs(foldOnce, (subject) => {
    if (!kept.has(subject) && !closed) folds.forget(subject);
  });

  /** Whether a subject waits for the next time. */
  const mustWait = (subject: string): boolean => {
    if (failures.tooMany()) unfolded.add(subject);
    return failures.tooMany();
  };
  const queue = createQueue(async (subject) => {
    if (isClosed() || mustWait(subject)) return;
    if (kept.has(subject)) void readAgain(subject);
    await fold(subject);
  });

  return {
    held: keep,
    fold,
    refold: (subjects) => {
      queue.put([...subjects, ...unfolded]);
    },
    changed: (subject, events) => {
      if (events === null) void readAgain(subject);
      else kept.set(subject, Promise.resolve(events));
      return fold(subject);
    },
    current: async (subject) => {
      if (!jobs.has(subject) && !current.has(subject) && mustWait(subject)) return undefined;
      void keep(subject);
      await (jobs.get(subject)?.done ?? (current.has(subject) ? undefined : fold(subject)));
      return current.get(subject);
    },
    isCurrent: (subject, one) => !jobs.has(subject) && current.get(subject) === one,
    settled: async () => {
      while ((jobs.size > 0 || queue.isBusy()) && !isClosed())
        await Promise.all([queue.done(), ...[...jobs.values()].map((job) => job.done)]);
    },
    drop: (subject) => {
      kept.delete(subject);
      current.delete(subject);
      unfolded.delete(subject);
      if (!jobs.has(subject)) folds.forget(subject);
    },
    close: () => {
      closed = true;
      folds.close();
      kept.clear();
      current.clear();
    },
  };
}

/** A subject's events with one that was just written, unless others came in between. */
export function withWritten(
  before: ReadEvents,
  written: { readonly held: StoredEvent; readonly marks: { readonly before: string | undefined; readonly after: string } },
): ReadEvents | null {
  if (written.marks.before !== before.mark) return null;
  return { ...before, events: [...before.events, written.held], mark: written.marks.after };
}
