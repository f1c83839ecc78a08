// @ts-check
// The bytes that lie in files of LevelDB, where Chromium keeps IndexedDB and
// local storage: its logs in pieces, its tables in blocks packed with Snappy,
// with keys that are cut short. Formats as in doc/table_format.md and
// doc/log_format.md of LevelDB, and format_description.txt of Snappy. What is
// torn is read as far as it goes: a browser may have been killed.

/**
 * A number of seven bits a byte, and where it ends.
 * @param {Buffer} bytes @param {number} at @returns {readonly [number, number]}
 */
function varint(bytes, at) {
  let [value, scale] = [0, 1];
  for (let i = at; i < bytes.length && i < at + 10; i++) {
    const byte = bytes[i] ?? 0;
    value += (byte & 127) * scale;
    scale *= 128;
    if (byte < 128) return [value, i + 1];
  }
  return [0, bytes.length];
}

/**
 * Unpacks Snappy; what follows it is left alone, and what is torn ends early.
 * @param {Buffer} packed @param {number} [from]
 */
export function unsnappy(packed, from = 0) {
  const [whole, start] = varint(packed, from);
  let at = start;
  const out = Buffer.alloc(Math.min(whole, 1 << 26));
  let end = 0;
  while (end < out.length && at < packed.length) {
    const tag = packed[at++] ?? 0;
    let length = (tag >> 2) + 1;
    if ((tag & 3) === 0) {
      const more = length > 60 ? length - 60 : 0;
      if (more > 0) length = packed.subarray(at, at + more).reduce((sum, byte, i) => sum + byte * 256 ** i, 1);
      at += more;
      packed.copy(out, end, at, at + length);
      at += length;
    } else {
      const size = [0, 1, 2, 4][tag & 3] ?? 0;
      let offset = packed.subarray(at, at + size).reduce((sum, byte, i) => sum + byte * 256 ** i, 0);
      if (size === 1) {
        length = ((tag >> 2) & 7) + 4;
        offset += (tag >> 5) * 256;
      }
      at += size;
      if (offset === 0 || offset > end) break;
      // What is copied may reach into what the copy writes.
      for (let i = 0; i < length && end + i < out.length; i++) out[end + i] = out[end + i - offset] ?? 0;
    }
    end += length;
  }
  return out.subarray(0, Math.min(end, out.length));
}

const MAGIC = Buffer.from('57fb808b247547db', 'hex');

/** Keys and values of one block. @param {Buffer} file @param {number} at @param {number} size */
function entries(file, at, size) {
  const raw = file.subarray(at, at + size);
  const block = file[at + size] === 1 ? unsnappy(raw) : raw;
  if (block.length < 4) return [];
  const end = Math.max(0, block.length - 4 - 4 * block.readUInt32LE(block.length - 4));
  const found = /** @type {(readonly [Buffer, Buffer])[]} */ ([]);
  let key = Buffer.alloc(0);
  for (let i = 0; i < end;) {
    const [shared, a] = varint(block, i);
    const [own, b] = varint(block, a);
    const [length, c] = varint(block, b);
    key = Buffer.concat([key.subarray(0, shared), block.subarray(c, c + own)]);
    found.push([key, block.subarray(c + own, c + own + length)]);
    i = c + own + length;
  }
  return found;
}

/** Whether a file is a table of LevelDB. @param {Buffer} file */
const isTable = (file) => file.length >= 48 && file.subarray(-8).equals(MAGIC);

/** @param {Buffer} file */
function tableParts(file) {
  const footer = file.subarray(-48);
  const [, a] = varint(footer, 0);
  const [, b] = varint(footer, a);
  const [at, c] = varint(footer, b);
  const [size] = varint(footer, c);
  return entries(file, at, size).flatMap(([, handle]) => {
    const [start, d] = varint(handle, 0);
    return entries(file, start, varint(handle, d)[0]).flat();
  });
}

const BLOCK = 32_768;

/** The records of a log, each put together from its pieces. @param {Buffer} file */
function logParts(file) {
  const records = /** @type {Buffer[]} */ ([]);
  let pieces = /** @type {Buffer[]} */ ([]);
  for (let block = 0; block < file.length; block += BLOCK) {
    const end = Math.min(block + BLOCK, file.length);
    for (let at = block; at + 7 <= end;) {
      const size = file.readUInt16LE(at + 4);
      const kind = file[at + 6] ?? 0;
      // FULL and FIRST begin a record, FULL and LAST end it; 0 is space not used yet.
      if (kind === 0 || kind > 4) break;
      if (kind <= 2) pieces = [];
      pieces.push(file.subarray(at + 7, Math.min(at + 7 + size, end)));
      if (kind !== 3) records.push(Buffer.concat(pieces));
      at += 7 + size;
    }
  }
  return records;
}

/**
 * What lies in a file of LevelDB besides its bytes as they are.
 * @param {string} name @param {Buffer} file
 */
export function levelParts(name, file) {
  if (isTable(file)) return tableParts(file);
  return /(\.log|MANIFEST-\d+)$/.test(name) ? logParts(file) : [];
}
