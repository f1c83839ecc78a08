// Runs a WASI program in node and ends with its code.
// Usage: node run.mjs program.wasm
import { readFileSync } from 'node:fs';
import { WASI } from 'node:wasi';

const wasi = new WASI({ version: 'preview1', returnOnExit: true });
const { instance } = await WebAssembly.instantiate(readFileSync(process.argv[2]), wasi.getImportObject());
process.exit(wasi.start(instance));
