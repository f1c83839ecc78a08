/**
 * Runs the scoring engine off the page's thread. It is the same Go program that
 * the server scores with, so the page only carries text to it and back.
 */
import 'wasm-exec';
import type { EngineAsk, EngineReply } from './engine-protocol';

interface DoorsillEngine {
  readonly load: (rules: Uint8Array) => string;
  readonly score: (visit: Uint8Array) => Uint8Array | string;
  readonly plausible: (what: string, site: string, value: number, unit: string) => string;
  readonly thresholds: () => string;
  readonly repeats: (series: string) => string;
  readonly run: (line: string) => string;
  readonly convert: (forces: string) => string;
  readonly plan: (chair: string, place: string) => string;
  readonly advice: (problem: string) => string;
  readonly trend: (visits: string) => string;
}

interface GoRuntime {
  readonly importObject: WebAssembly.Imports;
  readonly run: (instance: WebAssembly.Instance) => Promise<void>;
  /** Called at once when the program ends, in the middle of the question that ended it. */
  exit: (code: number) => void;
}

interface EngineScope {
  readonly Go: new () => GoRuntime;
  doorsillEngine?: DoorsillEngine;
}

declare const ENGINE_WASM: string;

const scope = globalThis as unknown as EngineScope & DedicatedWorkerGlobalScope;

async function start(): Promise<DoorsillEngine> {
  const go = new scope.Go();
  // The engine only ends by a mistake of its own. That question fails, and the
  // next one starts another engine.
  go.exit = () => {
    starting = null;
    loaded = '';
    throw new Error('The engine stopped at this question.');
  };
  const { instance } = await WebAssembly.instantiateStreaming(fetch(ENGINE_WASM), go.importObject);
  void go.run(instance);
  const engine = scope.doorsillEngine;
  if (engine === undefined) throw new Error('The engine started but did not report.');
  return engine;
}

let starting: Promise<DoorsillEngine> | null = null;
let loaded = '';

/** One engine for the worker's life; a failed start is tried again. */
function running(): Promise<DoorsillEngine> {
  starting ??= start().catch((error: unknown) => {
    starting = null;
    throw error;
  });
  return starting;
}

function score(engine: DoorsillEngine, ask: Extract<EngineAsk, { op: 'score' }>): string {
  if (loaded !== ask.hash) {
    const refused = engine.load(new TextEncoder().encode(ask.rules));
    if (refused !== '') throw new Error(refused);
    loaded = ask.hash;
  }
  const result = engine.score(new TextEncoder().encode(ask.visit));
  if (typeof result === 'string') throw new Error(result);
  return new TextDecoder().decode(result);
}

/** These answer in text whatever happens: "error", TAB and a sentence. */
function answered(text: string): string {
  if (text.startsWith('error\t')) throw new Error(text.slice('error\t'.length));
  return text;
}

async function answer(ask: EngineAsk): Promise<string> {
  const engine = await running();
  switch (ask.op) {
    case 'score': return score(engine, ask);
    case 'plausible': return engine.plausible(ask.what, ask.site, ask.value, ask.unit);
    case 'repeats':
    case 'run':
    case 'convert':
    case 'advice':
    case 'trend': return answered(engine[ask.op](ask.text));
    case 'plan': return answered(engine.plan(ask.chair, ask.place));
    case 'thresholds': return engine.thresholds();
  }
}

scope.addEventListener('message', (event: MessageEvent<EngineAsk>) => {
  const { id } = event.data;
  answer(event.data).then(
    (text) => { scope.postMessage({ id, ok: true, text } satisfies EngineReply); },
    (error: unknown) => {
      const message = error instanceof Error ? error.message : String(error);
      scope.postMessage({ id, ok: false, error: message } satisfies EngineReply);
    },
  );
});
