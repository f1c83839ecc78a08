// @ts-check
// Times the tablet's program: a cold load up to the first open visit, and a tap
// until its answer is parsed, in node and in Chromium. Two programs are asked by
// turns, so that their figures can be compared; compare those of one run only.
//
// Usage: node bench-engine.mjs ENGINE.wasm QUESTIONS.json [ENGINE.wasm QUESTIONS.json]
// with questions as "go test ./cmd/engine -run Questions -questions FILE" writes them.
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { createServer } from 'node:http';
import { WASI } from 'node:wasi';
import { brotliCompressSync } from 'node:zlib';
import { closeAll, openBrowser, remove, scratch } from './setup.mjs';

const rounds = Number(process.env.ROUNDS ?? 10);

/** @typedef {{ op: string, question: string }} Question */
/** @typedef {{ start: Question[], taps: Question[] }} Questions */
/** @typedef {{ compiled: number, started: number, opened: number, taps: number[] }} Times */

/**
 * Starts a program, opens a visit and taps; runs in node and, as text, in the
 * browser, so it uses nothing from outside.
 * @param {(imports: WebAssembly.Imports) => Promise<WebAssembly.Instance>} instantiate
 * @param {Questions} questions
 * @param {{ wasi?: { imports: WebAssembly.Imports, initialize: (instance: WebAssembly.Instance) => void } }} own what node has instead of a worker's WASI
 * @returns {Promise<Times>}
 */
async function timeProgram(instantiate, questions, own) {
  const none = () => 0;
  const calls = [
    'args_get',
    'args_sizes_get',
    'environ_get',
    'environ_sizes_get',
    'poll_oneoff',
    'sched_yield',
    'random_get',
    'fd_write',
    'proc_exit',
  ];
  const clock = (/** @type {number} */ _clock, /** @type {bigint} */ _precision, /** @type {number} */ at) => {
    new DataView(program.memory.buffer).setBigUint64(at, BigInt(Math.round(performance.now() * 1e6)), true);
    return 0;
  };
  const wasi = { ...Object.fromEntries(calls.map((call) => [call, none])), clock_time_get: clock };
  const begun = performance.now();
  const instance = await instantiate(own.wasi?.imports ?? { wasi_snapshot_preview1: wasi });
  const compiled = performance.now();
  const program = /** @type {any} */ (instance.exports);
  if (own.wasi) own.wasi.initialize(instance);
  else program._initialize();
  const ask = (/** @type {Question} */ { op, question }) => {
    const asked = new TextEncoder().encode(`${op}\n${question}`);
    const at = program.room(asked.length);
    new Uint8Array(program.memory.buffer, at, asked.length).set(asked);
    const size = program.ask();
    const answer = new TextDecoder().decode(new Uint8Array(program.memory.buffer, program.answer(), size));
    if (answer.startsWith('error') || answer.startsWith('{"error"')) throw new Error(`${op}: ${answer}`);
    if (answer.startsWith('{')) JSON.parse(answer);
  };
  const last = questions.start.length - 1;
  for (const question of questions.start.slice(0, last)) ask(question);
  const started = performance.now();
  const open = /** @type {Question} */ (questions.start[last]);
  ask(open);
  const opened = performance.now();
  const taps = [];
  for (let round = 0; round < 6; round++) {
    for (const tap of questions.taps) {
      const start = performance.now();
      ask(tap);
      taps.push(performance.now() - start);
    }
    ask(open);
  }
  return { compiled: compiled - begun, started: started - compiled, opened: opened - started, taps };
}

/** Node: a process for each program, since one process compiles a program once. @param {string} wasm @param {string} questions @returns {Times} */
const inNode = (wasm, questions) =>
  JSON.parse(execFileSync(process.execPath, ['--no-warnings', import.meta.filename, '--once', wasm, questions], { encoding: 'utf8' }));

/** @param {string} wasm @param {string} questions */
async function once(wasm, questions) {
  const bytes = readFileSync(wasm);
  const wasi = new WASI({ version: 'preview1' });
  const times = await timeProgram(
    async (imports) => (await WebAssembly.instantiate(bytes, imports)).instance,
    JSON.parse(readFileSync(questions, 'utf8')),
    { wasi: { imports: /** @type {WebAssembly.Imports} */ (wasi.getImportObject()), initialize: (instance) => wasi.initialize(instance) } },
  );
  process.stdout.write(JSON.stringify(times), () => process.exit(0));
}

/** Serves the programs as the server does, compressed. @param {string[]} wasms */
async function serve(wasms) {
  const small = wasms.map((wasm) => brotliCompressSync(readFileSync(wasm)));
  const server = createServer((request, response) => {
    const program = small[Number(/^\/(\d+)\.wasm/.exec(request.url ?? '')?.[1] ?? NaN)];
    const type = program ? 'application/wasm' : 'text/html';
    response.writeHead(200, { 'content-type': type, 'cache-control': 'no-store', ...(program && { 'content-encoding': 'br' }) });
    response.end(program ?? '<!doctype html><title>bench</title>');
  });
  await new Promise((resolve) => server.listen(0, '127.0.0.1', () => resolve(undefined)));
  const address = /** @type {import('node:net').AddressInfo} */ (server.address());
  return { url: `http://127.0.0.1:${address.port}`, close: () => server.close() };
}

/** Chromium: a browser of its own each time, so that nothing compiled is left. @param {string} url @param {number} n @param {string} questions @returns {Promise<Times>} */
async function inBrowser(url, n, questions) {
  const profile = await scratch('bench-engine');
  const { page, close } = await openBrowser(profile);
  await page.goto(url);
  const times = await page.evaluate(
    `(${String(timeProgram)})(async (imports) => (await WebAssembly.instantiateStreaming(fetch('/${n}.wasm'), imports)).instance, ${readFileSync(questions, 'utf8')}, {})`,
  );
  await close();
  await remove(profile);
  return /** @type {Times} */ (times);
}

/** @param {string} name @param {number[]} values */
function print(name, values) {
  const sorted = [...values].sort((a, b) => a - b);
  const at = (/** @type {number} */ share) => (sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? NaN).toFixed(2);
  console.log(`${name.padEnd(60)} n ${sorted.length}  min ${at(0)}  fastest tenth ${at(0.1)}  median ${at(0.5)} ms`);
}

/** @param {string} name @param {Times[]} list */
function printAll(name, list) {
  print(
    `${name}: fetch and compile`,
    list.map((one) => one.compiled),
  );
  print(
    `${name}: start and load`,
    list.map((one) => one.started),
  );
  print(
    `${name}: open the first visit`,
    list.map((one) => one.opened),
  );
  print(
    `${name}: cold, all three`,
    list.map((one) => one.compiled + one.started + one.opened),
  );
  print(
    `${name}: the first tap`,
    list.map((one) => one.taps[0] ?? NaN),
  );
  print(
    `${name}: warm tap`,
    list.flatMap((one) => one.taps.slice(one.taps.length / 2)),
  );
}

const files = process.argv.slice(2);
if (files[0] === '--once') {
  await once(files[1] ?? '', files[2] ?? '');
} else {
  const pairs = files.flatMap((wasm, n) => (n % 2 ? [] : [{ wasm, questions: files[n + 1] ?? '' }]));
  const server = await serve(pairs.map(({ wasm }) => wasm));
  const node = pairs.map(() => /** @type {Times[]} */ ([]));
  const browser = pairs.map(() => /** @type {Times[]} */ ([]));
  for (let round = 0; round < rounds; round++) {
    for (const [n, { wasm, questions }] of pairs.entries()) {
      node[n]?.push(inNode(wasm, questions));
      browser[n]?.push(await inBrowser(server.url, n, questions));
    }
  }
  for (const [n, { wasm }] of pairs.entries()) {
    printAll(`node ${wasm}`, node[n] ?? []);
    printAll(`Chromium ${wasm}`, browser[n] ?? []);
  }
  server.close();
  await closeAll();
}
