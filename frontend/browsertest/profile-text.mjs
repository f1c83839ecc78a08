// @ts-check
// Whether a word lies in clear anywhere in a browser's profile: in every file
// of it, as it is and unpacked, in each way in which browsers write text. Not
// read: what a file system keeps of deleted files, and a word that the pages of
// an SQLite file cut in two.
import { readdir, readFile } from 'node:fs/promises';
import { join, relative } from 'node:path';
import zlib from 'node:zlib';
import { levelParts, unsnappy } from './leveldb.mjs';

/** Every place of some bytes. @param {Buffer} bytes @param {Buffer} what */
function* places(bytes, what) {
  for (let at = bytes.indexOf(what); at >= 0; at = bytes.indexOf(what, at + 1)) yield at;
}

/** What unpacks, up to where it is torn. @param {() => Buffer} unpack @returns {Buffer[]} */
function attempt(unpack) {
  try {
    return [unpack()];
  } catch {
    return [];
  }
}

/** The head of gzip without a name in it takes ten bytes. */
const GZIP = Buffer.from('1f8b0800', 'hex');
const ZLIB = ['7801', '785e', '789c', '78da'].map((start) => Buffer.from(start, 'hex'));
/** How Chromium marks a value of IndexedDB that it packed with Snappy. */
const PACKED_VALUE = Buffer.from('ff1102', 'hex');
/** How a file of Chromium's cache begins: then its version, the length of its key, a sum, and the key. */
const CACHE_FILE = Buffer.from('305c72a71b6dfbfc', 'hex');
const torn = { finishFlush: zlib.constants.Z_SYNC_FLUSH };

/** @param {Buffer} bytes @returns {Buffer[]} */
function unpacked(bytes) {
  const found = /** @type {Buffer[]} */ ([...places(bytes, PACKED_VALUE)].map((at) => unsnappy(bytes, at + 3)));
  for (const at of places(bytes, GZIP)) found.push(...attempt(() => zlib.inflateRawSync(bytes.subarray(at + 10), torn)));
  for (const start of ZLIB) for (const at of places(bytes, start)) found.push(...attempt(() => zlib.inflateSync(bytes.subarray(at), torn)));
  if (bytes.subarray(0, 8).equals(CACHE_FILE)) {
    const body = bytes.subarray(24 + bytes.readUInt32LE(12));
    const flush = { finishFlush: zlib.constants.BROTLI_OPERATION_FLUSH };
    found.push(...attempt(() => zlib.brotliDecompressSync(body, flush)));
    found.push(...attempt(() => zlib.inflateRawSync(body, torn)));
  }
  return found;
}

/**
 * Bytes as text in which a word is found however it was written: in UTF-8,
 * Latin-1 or UTF-16 of either order (which for plain letters is Latin-1 with
 * zeros between), large or small, with spaces as in an address.
 * @param {Buffer} bytes
 */
const levelled = (bytes) => bytes.toString('latin1').replaceAll('\0', '').replaceAll('%20', ' ').replaceAll('+', ' ').toLowerCase();

/** What a word looks like in such a text. @param {string} word */
function forms(word) {
  const little = Buffer.from(word, 'utf16le');
  const written = [word, word.normalize('NFD'), encodeURIComponent(word)].map((one) => Buffer.from(one, 'utf8'));
  return [...new Set([...written, Buffer.from(word, 'latin1'), little, Buffer.from(little).swap16()].map(levelled))];
}

/** A file that the browser has taken away since its name was read holds nothing. @param {string} path */
const bytesOf = (path) =>
  readFile(path).catch((/** @type {NodeJS.ErrnoException} */ error) => {
    if (error.code === 'ENOENT') return Buffer.alloc(0);
    throw error;
  });

/**
 * Reads a whole profile; it may be in use.
 * @param {string} folder @param {string} [within] only the files of this folder of it
 */
export async function readProfile(folder, within = '.') {
  const names = await readdir(join(folder, within), { recursive: true, withFileTypes: true });
  const files = await Promise.all(
    names
      .filter((one) => one.isFile())
      .map(async (one) => {
        const path = join(one.parentPath, one.name);
        const raw = await bytesOf(path);
        const parts = [raw, ...levelParts(one.name, raw)];
        return { name: relative(folder, path), text: [...parts, ...parts.flatMap(unpacked)].map(levelled).join('\n') };
      }),
  );
  return {
    files: files.map((file) => file.name),
    /** The files that hold a word. @param {string} word */
    holding: (word) => {
      const looked = forms(word);
      return files.filter(({ text }) => looked.some((form) => text.includes(form))).map(({ name }) => name);
    },
  };
}

/** @typedef {Awaited<ReturnType<typeof readProfile>>} ProfileText */
