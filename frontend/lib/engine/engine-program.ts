/**
 * Carries texts to the engine's program and back. It is Go's, built for WASI, so
 * what it needs of the browser is a short list of an open standard:
 * https://github.com/WebAssembly/WASI/blob/main/legacy/preview1/docs.md.
 * What may be asked stands in cmd/engine.
 */

/** Asks one question and returns its answer; value belongs to "plausible" alone. */
export type Ask = (word: string, text: string, value?: number) => string;

interface Program {
  readonly memory: WebAssembly.Memory;
  readonly _initialize: () => void;
  readonly room: (size: number) => number;
  readonly ask: (value?: number) => number;
  readonly answer: () => number;
}

type Instantiate = (imports: WebAssembly.Imports) => Promise<WebAssembly.Instance>;

/** Starts the program. onEnd is told when it ends, which it only does by a mistake of its own. */
export async function startProgram(instantiate: Instantiate, onEnd: () => void): Promise<Ask> {
  const none = (): number => 0;
  const bytes = (at: number, size: number) => new Uint8Array(program.memory.buffer, at, size);
  const words = () => new DataView(program.memory.buffer);
  const { exports } = await instantiate({
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
        onEnd();
        throw new Error('The engine stopped at this question.');
      },
    },
  });
  const program = exports as unknown as Program;
  program._initialize();
  return (word, text, value) => {
    const question = new TextEncoder().encode(`${word}\n${text}`);
    const at = program.room(question.length);
    bytes(at, question.length).set(question);
    const size = program.ask(value);
    const answer = new TextDecoder().decode(bytes(program.answer(), size));
    if (answer.startsWith('error\t')) throw new Error(answer.slice('error\t'.length));
    return answer;
  };
}

/** What the page asks of the engine worker, and what it answers. */
export type EngineAsk =
  | { readonly id: number; readonly op: 'score'; readonly hash: string; readonly rules: string; readonly visit: string }
  | {
      readonly id: number;
      readonly op: 'plausible';
      readonly what: string;
      readonly site: string;
      readonly value: number;
      readonly unit: string;
    }
  | { readonly id: number; readonly op: 'repeats' | 'run' | 'convert' | 'advice' | 'trend'; readonly text: string }
  | { readonly id: number; readonly op: 'plan'; readonly chair: string; readonly place: string }
  | { readonly id: number; readonly op: 'thresholds' };

export type EngineReply =
  { readonly id: number; readonly ok: true; readonly text: string } | { readonly id: number; readonly ok: false; readonly error: string };
