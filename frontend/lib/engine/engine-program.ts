/**
 * Carries questions to the tablet's program and answers back. It is Go's, built
 * for WASI, so what it needs of the browser is a short list of an open standard:
 * https://github.com/WebAssembly/WASI/blob/main/legacy/preview1/docs.md.
 * What may be asked stands in internal/model/program.go.
 */
import type { CatalogueQuestion, Op } from '../model.gen';

/** Asks one question, as JSON, and returns the answer's JSON. */
export type Ask = (op: Op, question: string) => string;

interface Program {
  readonly memory: WebAssembly.Memory;
  readonly _initialize: () => void;
  readonly room: (size: number) => number;
  readonly ask: () => number;
  readonly answer: () => number;
}

type Instantiate = (imports: WebAssembly.Imports) => Promise<WebAssembly.Instance>;

/** Starts the program and gives it the sentences; a question that ends it, which only a mistake of its own does, throws. */
export async function startProgram(instantiate: Instantiate, catalogue: Promise<string>): Promise<Ask> {
  const none = (): number => 0;
  const bytes = (at: number, size: number) => new Uint8Array(program.memory.buffer, at, size);
  const words = () => new DataView(program.memory.buffer);
  const starting = instantiate({
    wasi_snapshot_preview1: {
      args_get: none,
      args_sizes_get: none,
      environ_get: none,
      environ_sizes_get: none,
      poll_oneoff: none,
      sched_yield: none,
      clock_time_get: (_clock: number, _precision: bigint, at: number) => {
        words().setBigUint64(at, BigInt(Math.round(performance.now() * 1e6)), true);
        return 0;
      },
      random_get: (at: number, size: number) => {
        crypto.getRandomValues(bytes(at, size));
        return 0;
      },
      fd_write: (_file: number, list: number, pieces: number, written: number) => {
        let all = 0;
        for (let i = 0; i < pieces; i++) {
          const size = words().getUint32(list + 8 * i + 4, true);
          console.error(new TextDecoder().decode(bytes(words().getUint32(list + 8 * i, true), size)));
          all += size;
        }
        words().setUint32(written, all, true);
        return 0;
      },
      proc_exit: () => {
        throw new Error('The engine stopped at this question.');
      },
    },
  });
  const [{ exports }, text] = await Promise.all([starting, catalogue]);
  const program = exports as unknown as Program;
  program._initialize();
  const ask: Ask = (op, question) => {
    const asked = new TextEncoder().encode(`${op}\n${question}`);
    const at = program.room(asked.length);
    bytes(at, asked.length).set(asked);
    const size = program.ask();
    return new TextDecoder().decode(bytes(program.answer(), size));
  };
  const taken = ask('load-catalogue', JSON.stringify({ language: 'en', text } satisfies CatalogueQuestion));
  if (taken !== 'null') throw new Error(`The engine does not take the catalogue: ${taken}`);
  return ask;
}

/** What the page asks of the engine worker: a question as JSON. */
export interface EngineAsk {
  readonly id: number;
  readonly op: Op;
  readonly question: string;
}

/** An answer's JSON, or why there will be none any more: the program did not start, or has ended. */
export type EngineReply = { readonly id: number; readonly text: string; readonly ended?: undefined } | { readonly ended: string };
