// Runs the program's wasm on shared questions, as the browser's worker does.
// The WASI of node stands in for the worker's own, so that neither is trusted alone.
// Usage: node vectors.mjs engine.wasm cases.json
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { WASI } from 'node:wasi';

const [wasm, casesFile] = process.argv.slice(2);
const wasi = new WASI({ version: 'preview1' });
const { instance } = await WebAssembly.instantiate(readFileSync(wasm), wasi.getImportObject());
wasi.initialize(instance);
const { memory, room, ask, answer } = instance.exports;

function program(op, json) {
  const question = new TextEncoder().encode(`${op}\n${json}`);
  const at = room(question.length);
  new Uint8Array(memory.buffer, at, question.length).set(question);
  const size = ask();
  return new TextDecoder('utf-8', { fatal: true }).decode(new Uint8Array(memory.buffer, answer(), size));
}

const { calls, timed } = JSON.parse(readFileSync(casesFile, 'utf8'));
for (const { op, question, want } of calls) assert.equal(program(op, question), want, op);

const [open, ...adds] = timed;
const rounds = 10;
let spent = 0;
for (let i = 0; i < rounds; i++) {
  assert.equal(program(open.op, open.question), open.want);
  const start = performance.now();
  const answers = adds.map(({ op, question }) => program(op, question));
  spent += performance.now() - start;
  answers.forEach((answer, n) => assert.equal(answer, adds[n].want));
}
console.log(`${calls.length} questions, ${(spent / rounds / adds.length).toFixed(2)} ms an entry added to a full visit: same bytes`);
process.exit(0);
