/** The page's side of the engine worker. It starts with the first question. */
import type { Plausibility } from '../records/types';
import type { EngineAsk, EngineReply } from './engine-program';
import { shortest } from './visit-text';

export interface Engine {
  /**
   * Scores a visit's text with a checklist's rules. For one key only the latest
   * question is answered; an overtaken one resolves to null.
   */
  readonly score: (key: string, hash: string, rules: string, visit: string) => Promise<string | null>;
  readonly plausible: (what: string, site: string, value: number, unit: string) => Promise<Plausibility>;
  readonly thresholds: () => Promise<string>;
  /** Sums up series of readings that are being taken; text as in the engine's WIRE.md. */
  readonly repeats: (series: string) => Promise<string>;
  /** The figures of one run that is being driven; text as in WIRE.md. */
  readonly run: (line: string) => Promise<string>;
  /** Forces in another unit; rejects when a unit is not one of force. */
  readonly convert: (values: readonly number[], from: string, to: string) => Promise<readonly number[]>;
  /** The plan drawing of one passage, from the chair's and the place's line of the visit text; rejects with the engine's sentence. */
  readonly plan: (chair: string, place: string) => Promise<string>;
  /** Which settings to try for an observed problem. */
  readonly advice: (problem: string) => Promise<string>;
  /** What changed between visits, and when a control may become too heavy. */
  readonly trend: (visits: string) => Promise<string>;
  /** Starts the worker before it is needed. */
  readonly warm: () => void;
  /** Ends the worker and what it holds; the next question starts another. */
  readonly stop: () => void;
}

type Question = EngineAsk extends infer A ? (A extends { readonly id: number } ? Omit<A, 'id'> : never) : never;

interface Waiting {
  readonly resolve: (text: string) => void;
  readonly reject: (error: Error) => void;
}

export function createEngine(start: () => Worker): Engine {
  let worker: Worker | null = null;
  let nextId = 1;
  const waiting = new Map<number, Waiting>();

  const fail = (message: string): void => {
    worker?.terminate();
    worker = null;
    for (const one of waiting.values()) one.reject(new Error(message));
    waiting.clear();
  };

  const listen = (started: Worker): Worker => {
    started.addEventListener('message', (event: MessageEvent<EngineReply>) => {
      const reply = event.data;
      const asked = waiting.get(reply.id);
      waiting.delete(reply.id);
      if (reply.ok) asked?.resolve(reply.text);
      else asked?.reject(new Error(reply.error));
    });
    started.addEventListener('error', (event) => {
      fail(event.message || 'The engine did not start.');
    });
    return started;
  };

  const ask = (question: Question): Promise<string> =>
    new Promise((resolve, reject) => {
      const id = nextId++;
      waiting.set(id, { resolve, reject });
      try {
        worker ??= listen(start());
        worker.postMessage({ ...question, id });
      } catch (error) {
        waiting.delete(id);
        reject(error instanceof Error ? error : new Error(String(error)));
      }
    });

  const score = createLatest((hash: string, rules: string, visit: string) => ask({ op: 'score', hash, rules, visit }));
  return {
    score,
    plausible: async (what, site, value, unit) => readPlausible(await ask({ op: 'plausible', what, site, value, unit })),
    thresholds: () => ask({ op: 'thresholds' }),
    repeats: (text) => ask({ op: 'repeats', text }),
    run: (text) => ask({ op: 'run', text }),
    convert: async (values, from, to) => {
      if (from === to || values.length === 0) return values;
      return (await ask({ op: 'convert', text: [from, to, ...values.map(shortest)].join('\t') })).split('\t').map(Number);
    },
    plan: (chair, place) => ask({ op: 'plan', chair, place }),
    advice: (text) => ask({ op: 'advice', text }),
    trend: (text) => ask({ op: 'trend', text }),
    stop: () => {
      fail('This tablet is locked.');
    },
    warm: () => {
      ask({ op: 'thresholds' }).catch(() => undefined);
    },
  };
}

/** At most one question under way and one in the queue for each key. */
function createLatest<A extends readonly unknown[]>(run: (...args: A) => Promise<string>) {
  interface Slot {
    queued: { readonly args: A; readonly give: (text: Promise<string> | null) => void } | null;
  }
  const slots = new Map<string, Slot>();

  const next = (key: string, slot: Slot): void => {
    const job = slot.queued;
    if (job === null) {
      slots.delete(key);
      return;
    }
    slot.queued = null;
    const answer = run(...job.args);
    job.give(answer);
    const on = () => {
      next(key, slot);
    };
    answer.then(on, on);
  };

  return (key: string, ...args: A): Promise<string | null> =>
    new Promise((resolve) => {
      const job = {
        args,
        give: (text: Promise<string> | null) => {
          resolve(text);
        },
      };
      const busy = slots.get(key);
      if (busy === undefined) {
        const slot: Slot = { queued: job };
        slots.set(key, slot);
        next(key, slot);
      } else {
        busy.queued?.give(null);
        busy.queued = job;
      }
    });
}

/** Reads "ok", "ask TAB sentence TAB suggestion" or "refuse TAB sentence". */
export function readPlausible(line: string): Plausibility {
  const [kind = '', sentence = '', suggestion = '-'] = line.trim().split('\t');
  if (kind === 'refuse') return { kind, sentence };
  if (kind !== 'ask') return { kind: 'ok', sentence: '' };
  return suggestion === '-' || suggestion === '' ? { kind, sentence } : { kind, sentence, suggestion };
}
