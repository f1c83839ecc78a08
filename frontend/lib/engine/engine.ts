/**
 * The page's side of the tablet's program, which runs in a worker of this tab. It
 * starts with the first question. When it ends by a mistake of its own, whoever
 * waits for it is told, and the next question starts another one.
 */
import { BadInputError } from '../errors';
import type { FailedAnswer, Op, ProgramOps } from '../model.gen';
import type { EngineAsk, EngineReply } from './engine-program';

export interface Engine {
  /**
   * Rejects with BadInputError where the program says what is wrong with the
   * question, and with EngineEnded where there is no answer.
   */
  readonly ask: <K extends Op>(op: K, question: ProgramOps[K][0]) => Promise<ProgramOps[K][1]>;
  /** The same, with the answer's JSON as the program wrote it: what is hashed. */
  readonly askText: <K extends Op>(op: K, question: ProgramOps[K][0]) => Promise<string>;
  /** Starts the program before it is needed. */
  readonly warm: () => void;
  /** Ends the program and what it holds; the next question starts another. */
  readonly stop: () => void;
}

/** The program did not start, or ended before it had answered. */
export class EngineEnded extends Error {}

interface Waiting {
  readonly resolve: (text: string) => void;
  readonly reject: (error: Error) => void;
}

/** How long a worker that has begun to answer may be silent while it is asked something. */
const SILENT_MS = 30_000;

export interface EngineTimers {
  readonly setTimer: (run: () => void, ms: number) => unknown;
  readonly clearTimer: (timer: unknown) => void;
}

/**
 * A worker answers in order, so a silent one has not answered the question whose
 * turn it is. Before its first answer it is still being fetched, which may take
 * long.
 */
function createWatch({ setTimer, clearTimer }: EngineTimers, silent: () => void) {
  let timer: unknown;
  let answered = false;
  const rest = (): void => {
    if (timer !== undefined) clearTimer(timer);
    timer = undefined;
  };
  const watch = (): void => {
    if (answered) timer ??= setTimer(silent, SILENT_MS);
  };
  return {
    asked: watch,
    answered: (more: boolean): void => {
      answered = true;
      rest();
      if (more) watch();
    },
    ended: (): void => {
      answered = false;
      rest();
    },
  };
}

export function createEngine(start: () => Worker, timers: EngineTimers): Engine {
  let worker: Worker | null = null;
  let nextId = 1;
  const waiting = new Map<number, Waiting>();
  const watch = createWatch(timers, () => {
    fail('The engine gave no answer.');
  });
  /** Checklists that were taken, by hash: another program gets them before its first question. */
  const checklists = new Map<string, string>();

  const fail = (message: string): void => {
    worker?.terminate();
    worker = null;
    watch.ended();
    const lost = [...waiting.values()];
    waiting.clear();
    for (const one of lost) one.reject(new EngineEnded(message));
  };

  const started = (): Worker => {
    const fresh = start();
    fresh.addEventListener('message', ({ data }: MessageEvent<EngineReply>) => {
      if (fresh !== worker) return;
      if (data.ended !== undefined) {
        fail(data.ended);
        return;
      }
      const asked = waiting.get(data.id);
      waiting.delete(data.id);
      watch.answered(waiting.size > 0);
      asked?.resolve(data.text);
    });
    fresh.addEventListener('error', (event) => {
      if (fresh === worker) fail(event.message || 'The engine did not start.');
    });
    fresh.addEventListener('messageerror', () => {
      if (fresh === worker) fail('An answer of the engine could not be read.');
    });
    for (const question of checklists.values()) fresh.postMessage({ id: nextId++, op: 'load-checklist', question } satisfies EngineAsk);
    return fresh;
  };

  const send = (op: Op, question: string): Promise<string> =>
    new Promise((resolve, reject) => {
      const id = nextId++;
      try {
        worker ??= started();
        waiting.set(id, { resolve, reject });
        worker.postMessage({ id, op, question } satisfies EngineAsk);
        watch.asked();
      } catch (error) {
        waiting.delete(id);
        reject(new EngineEnded(error instanceof Error ? error.message : String(error)));
      }
    });

  const read = async (op: Op, question: object): Promise<[text: string, answer: unknown]> => {
    const asked = JSON.stringify(question);
    const text = await send(op, asked);
    const answer = JSON.parse(text) as unknown;
    if (isFailed(answer)) throw new BadInputError(answer.error);
    if (op === 'load-checklist') checklists.set((question as ProgramOps['load-checklist'][0]).hash, asked);
    return [text, answer];
  };

  const ask: Engine['ask'] = async <K extends Op>(op: K, question: ProgramOps[K][0]) => (await read(op, question))[1] as ProgramOps[K][1];
  return {
    ask,
    askText: async (op, question) => (await read(op, question))[0],
    warm: () => {
      ask('thresholds', {}).catch(() => undefined);
    },
    stop: () => {
      checklists.clear();
      fail('This tablet is locked.');
    },
  };
}

function isFailed(answer: unknown): answer is FailedAnswer {
  return typeof answer === 'object' && answer !== null && 'error' in answer;
}
