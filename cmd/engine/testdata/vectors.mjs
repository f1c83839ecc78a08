// Runs the engine's wasm on the shared vectors, as the browser's worker does.
// Usage: node vectors.mjs engine.wasm wasm_exec.js cases.json
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { basename, dirname } from 'node:path';
import { pathToFileURL } from 'node:url';

const [wasm, loader, casesFile] = process.argv.slice(2);
await import(pathToFileURL(loader).href);
const go = new globalThis.Go();
const { instance } = await WebAssembly.instantiate(readFileSync(wasm), go.importObject);
void go.run(instance);
const engine = globalThis.doorsillEngine;
const cases = JSON.parse(readFileSync(casesFile, 'utf8'));
const bytes = (text) => new TextEncoder().encode(text);

assert.equal(engine.score(bytes('doorsill-visit\t1\n')), 'no checklist loaded: call load first');
assert.match(engine.load(bytes('nonsense')), /expected doorsill-rules/);
assert.match(engine.load('not bytes'), /expected doorsill-rules/);

let slowest = 0;
for (const file of cases.vectors) {
  const vector = JSON.parse(readFileSync(file, 'utf8'));
  assert.equal(engine.load(bytes(vector.rules ?? cases.rules)), '', vector.name);
  const start = performance.now();
  const result = engine.score(bytes(vector.text));
  slowest = Math.max(slowest, performance.now() - start);
  assert.ok(result instanceof Uint8Array, `${vector.name}: ${result}`);
  assert.equal(new TextDecoder('utf-8', { fatal: true }).decode(result), vector.result, vector.name);
}

const wrong = engine.score(bytes('doorsill-visit\t1\nitem\tpos-wings\tanswered\t3\t-\n'));
assert.match(wrong, /line 2: item: expected an item of this checklist, got “pos-wings”/);
for (const c of cases.plausible) {
  assert.equal(engine.plausible(c.what, c.site, c.value, c.unit), c.want);
}
assert.match(engine.plausible('force', 'chin', '60', 'gf'), /^refuse\tThe value is not a number/);
assert.equal(engine.thresholds(), cases.thresholds);
for (const file of cases.calls) {
  const { name, in: given, out } = JSON.parse(readFileSync(file, 'utf8'));
  assert.equal(engine[basename(dirname(file))](...given), out, name);
}
for (const c of cases.measuring) assert.equal(engine[c.call](c.text), c.want, c.call);

engine.load(bytes(cases.rules));
const visit = bytes(JSON.parse(readFileSync(cases.vectors.find((f) => f.endsWith('full-ninety.json')), 'utf8')).text);
const rounds = 300;
const start = performance.now();
for (let i = 0; i < rounds; i++) engine.score(visit);
const each = (performance.now() - start) / rounds;
console.log(`${cases.vectors.length} vectors, ${each.toFixed(2)} ms a full visit, slowest first call ${slowest.toFixed(1)} ms: same bytes`);
process.exit(0);
