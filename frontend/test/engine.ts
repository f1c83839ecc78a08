/** The tablet's program in node, the very one that the browser gets, as a worker that answers in this thread. */
import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { createEngine, type Engine } from '../lib/engine/engine';
import { startProgram, type Ask, type EngineAsk, type EngineReply } from '../lib/engine/engine-program';
import type { Op } from '../lib/model.gen';

const built = resolve('.cache', 'unit');

let compiled: Promise<WebAssembly.Module> | undefined;

export async function startTestProgram(): Promise<Ask> {
  compiled ??= WebAssembly.compile(readFileSync(join(built, 'engine.wasm')));
  const module = await compiled;
  const catalogue = Promise.resolve(readFileSync(join(built, 'catalogue-en.txt'), 'utf8'));
  return startProgram((imports) => WebAssembly.instantiate(module, imports), catalogue);
}

/** The standard checklist's definition. */
export function standardChecklist(): unknown {
  return JSON.parse(readFileSync(join(built, 'standard.json'), 'utf8'));
}

export interface TestEngine extends Engine {
  /** What was asked of the programs so far, in order. */
  readonly asked: { readonly op: Op; readonly question: string }[];
  /** How many programs were started. */
  readonly started: () => number;
  /** The program ends at the next question of this kind. */
  readonly endAt: (op: Op) => void;
  /** Every program ends at its first question, until the function that this gives is called. */
  readonly endAlways: () => () => void;
  /** Nothing is answered until the function that this gives is called. */
  readonly hold: () => () => void;
}

export function createTestEngine(): TestEngine {
  const asked: TestEngine['asked'] = [];
  let starts = 0;
  let ending: Op | undefined;
  let always = false;
  let held: Promise<void> = Promise.resolve();

  const worker = (): Worker => {
    starts += 1;
    let listen: (event: { readonly data: EngineReply }) => void = () => undefined;
    const program = startTestProgram();
    const reply = async ({ id, op, question }: EngineAsk): Promise<EngineReply> => {
      const ask = await program;
      await held;
      asked.push({ op, question });
      if (always) return { ended: 'it ended' };
      if (op !== ending) return { id, text: ask(op, question) };
      ending = undefined;
      return { ended: 'it ended' };
    };
    const one = {
      addEventListener: (kind: string, run: typeof listen) => {
        if (kind === 'message') listen = run;
      },
      postMessage: (question: EngineAsk) => {
        void reply(question).then((data) => {
          listen({ data });
        });
      },
      terminate: () => undefined,
    };
    return one as unknown as Worker;
  };

  return {
    ...createEngine(worker, { setTimer: () => undefined, clearTimer: () => undefined }),
    asked,
    started: () => starts,
    endAt: (op) => {
      ending = op;
    },
    endAlways: () => {
      always = true;
      return () => {
        always = false;
      };
    },
    hold: () => {
      let release = (): void => undefined;
      held = new Promise((done) => {
        release = done;
      });
      return release;
    },
  };
}
