// Runs the engine's wasm on the shared vectors, as the browser's worker does.
// The WASI of node stands in for the worker's own, so that neither is trusted alone.
// Usage: node vectors.mjs engine.wasm cases.json
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { basename, dirname } from 'node:path';
import { WASI } from 'node:wasi';

const [wasm, casesFile] = process.argv.slice(2);
const wasi = new WASI({ version: 'preview1' });
const { instance } = await WebAssembly.instantiate(readFileSync(wasm), wasi.getImportObject());
wasi.initialize(instance);
const { memory, room, ask, answer } = instance.exports;

function engine(word, text = '', value = NaN) {
  const question = new TextEncoder().encode(`${word}\n${text}`);
  const at = room(question.length);
  new Uint8Array(memory.buffer, at, question.length).set(question);
  const size = ask(value);
  return new TextDecoder('utf-8', { fatal: true }).decode(new Uint8Array(memory.buffer, answer(), size));
}

/** Loads a checklist as the page does: by its hash and its definition. */
function load({ hash, definition }) {
  assert.equal(engine('load', `${hash}\n${JSON.stringify(definition)}`), '');
}

const cases = JSON.parse(readFileSync(casesFile, 'utf8'));

assert.equal(engine('score', 'doorsill-visit\t1\n'), 'error\tno checklist loaded: load one first');
assert.match(engine('load', 'hash\nnonsense'), /^error\texpected a value at byte 1/);
assert.match(engine('load'), /^error\texpected an object at byte 1, got the end/);
assert.match(engine('load', 'hash\n{"format":"doorsill-checklist/2"}'), /^error\tformat: expected doorsill-checklist\/1/);
assert.equal(engine('guess'), 'error\tno such question: guess');

let slowest = 0;
for (const file of cases.vectors) {
  const vector = JSON.parse(readFileSync(file, 'utf8'));
  load(vector.checklist ?? cases.checklist);
  const start = performance.now();
  const result = engine('score', vector.text);
  slowest = Math.max(slowest, performance.now() - start);
  assert.equal(result, vector.result, vector.name);
}

const wrong = engine('score', 'doorsill-visit\t1\nitem\tpos-wings\tanswered\t3\t-\n');
assert.match(wrong, /^error\t.*line 2: item: expected an item of this checklist, got “pos-wings”/);
for (const c of cases.plausible) {
  assert.equal(engine('plausible', [c.what, c.site, c.unit].join('\t'), c.value), c.want);
}
assert.match(engine('plausible', 'force\tchin\tgf'), /^refuse\tThe value is not a number/);
assert.equal(engine('thresholds'), cases.thresholds);
for (const file of cases.calls) {
  const { name, in: given, out } = JSON.parse(readFileSync(file, 'utf8'));
  assert.equal(engine(basename(dirname(file)), given.join('\n')), out, name);
}
for (const c of cases.measuring) assert.equal(engine(c.call, c.text), c.want, c.call);

load(cases.checklist);
const visit = JSON.parse(readFileSync(cases.vectors.find((f) => f.endsWith('full-ninety.json')), 'utf8')).text;
const rounds = 300;
const start = performance.now();
for (let i = 0; i < rounds; i++) engine('score', visit);
const each = (performance.now() - start) / rounds;
console.log(`${cases.vectors.length} vectors, ${each.toFixed(2)} ms a full visit, slowest first call ${slowest.toFixed(1)} ms: same bytes`);
process.exit(0);
