/**
 * Runs the tablet's program off the page's thread: it folds, checks, scores and
 * words. It is the same Go code that the server runs, so the page only carries
 * questions to it and answers back. A worker has one program for its life.
 */
import { startProgram, type Ask, type EngineAsk, type EngineReply } from './engine-program';

declare const ENGINE_WASM: string;
declare const CATALOGUE_EN: string;

const scope = globalThis as unknown as DedicatedWorkerGlobalScope;

function start(): Promise<Ask> {
  const catalogue = fetch(CATALOGUE_EN).then((response) => {
    if (!response.ok) throw new Error(`The sentences could not be fetched: ${response.status}.`);
    return response.text();
  });
  return startProgram(instantiate, catalogue).catch((error: unknown) => {
    // How the browser says that there is no network or no such file: "Failed to fetch".
    if (error instanceof TypeError) throw new Error('The part of the app that works out results could not be loaded.', { cause: error });
    throw error;
  });
}

async function instantiate(imports: WebAssembly.Imports): Promise<WebAssembly.Instance> {
  try {
    return (await WebAssembly.instantiateStreaming(fetch(ENGINE_WASM), imports)).instance;
  } catch (error) {
    if (error instanceof WebAssembly.CompileError) await dropDamaged();
    throw error;
  }
}

/** A program that the offline copy has not kept as it was is fetched anew at the next start. */
async function dropDamaged(): Promise<void> {
  for (const name of await caches.keys()) await (await caches.open(name)).delete(ENGINE_WASM);
}

let starting: Promise<Ask> | null = null;

async function answer({ id, op, question }: EngineAsk): Promise<EngineReply> {
  starting ??= start();
  const ask = await starting;
  return { id, text: ask(op, question) };
}

scope.addEventListener('message', (event: MessageEvent<EngineAsk>) => {
  answer(event.data).then(
    (reply) => {
      scope.postMessage(reply);
    },
    (error: unknown) => {
      scope.postMessage({ ended: error instanceof Error ? error.message : String(error) } satisfies EngineReply);
    },
  );
});
