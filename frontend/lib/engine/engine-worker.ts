/**
 * Runs the scoring engine off the page's thread. It is the same Go program that
 * the server scores with, so the page only carries text to it and back.
 */
import { startProgram, type Ask, type EngineAsk, type EngineReply } from './engine-program';

declare const ENGINE_WASM: string;
declare const CATALOGUE_EN: string;

const scope = globalThis as unknown as DedicatedWorkerGlobalScope;

let starting: Promise<Ask> | null = null;
let loaded = '';

/** After its end the next question starts another engine. */
function forget(): void {
  starting = null;
  loaded = '';
}

async function readCatalogue(): Promise<string> {
  const response = await fetch(CATALOGUE_EN);
  if (!response.ok) throw new Error(`The catalogue could not be read: status ${response.status}.`);
  return response.text();
}

/** Starts the program and gives it the sentences that it words its answers with. */
async function start(): Promise<Ask> {
  const instantiate = async (imports: WebAssembly.Imports): Promise<WebAssembly.Instance> =>
    (await WebAssembly.instantiateStreaming(fetch(ENGINE_WASM), imports)).instance;
  const [engine, catalogue] = await Promise.all([startProgram(instantiate, forget), readCatalogue()]);
  engine('catalogue', catalogue);
  return engine;
}

/** One engine for the worker's life; a failed start is tried again. */
function running(): Promise<Ask> {
  starting ??= start().catch((error: unknown) => {
    forget();
    throw error;
  });
  return starting;
}

async function answer(ask: EngineAsk): Promise<string> {
  const engine = await running();
  switch (ask.op) {
    case 'score':
      if (loaded !== ask.hash) {
        engine('load', ask.rules);
        loaded = ask.hash;
      }
      return engine(ask.op, ask.visit);
    case 'plausible':
      return engine(ask.op, [ask.what, ask.site, ask.unit].join('\t'), ask.value);
    case 'plan':
      return engine(ask.op, `${ask.chair}\n${ask.place}`);
    case 'thresholds':
      return engine(ask.op, '');
    default:
      return engine(ask.op, ask.text);
  }
}

scope.addEventListener('message', (event: MessageEvent<EngineAsk>) => {
  const { id } = event.data;
  answer(event.data).then(
    (text) => {
      scope.postMessage({ id, ok: true, text } satisfies EngineReply);
    },
    (error: unknown) => {
      const message = error instanceof Error ? error.message : String(error);
      scope.postMessage({ id, ok: false, error: message } satisfies EngineReply);
    },
  );
});
