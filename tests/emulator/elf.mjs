// Reads the firmware image: what goes into flash, how much room it takes, and which function an address lies in.
import { readFileSync } from 'node:fs';

const LOAD = 1, SYMBOL_TABLE = 2, NO_TYPE = 0, OBJECT = 1, FUNCTION = 2, NO_BITS = 8;
const ALLOCATED = 2;

/** Segments carry their address in flash, where initialised RAM starts its life too. */
export function readElf(path) {
  const file = readFileSync(path);
  if (file.readUInt32BE(0) !== 0x7f454c46 || file[4] !== 1 || file[5] !== 1) {
    throw new Error(`${path} is not a 32-bit little-endian ELF file`);
  }
  return {
    segments: segments(file),
    sections: sections(file),
    functions: symbols(file, FUNCTION),
    objects: [...symbols(file, OBJECT), ...symbols(file, NO_TYPE)],
  };
}

function table(file, { at, entry, count }) {
  return Array.from({ length: count }, (_, i) => file.subarray(at + i * entry, at + (i + 1) * entry));
}

function segments(file) {
  const headers = { at: file.readUInt32LE(28), entry: file.readUInt16LE(42), count: file.readUInt16LE(44) };
  return table(file, headers)
    .filter((header) => header.readUInt32LE(0) === LOAD && header.readUInt32LE(16) > 0)
    .map((header) => {
      const offset = header.readUInt32LE(4);
      return { address: header.readUInt32LE(12), bytes: file.subarray(offset, offset + header.readUInt32LE(16)) };
    });
}

function sectionHeaders(file) {
  const headers = { at: file.readUInt32LE(32), entry: file.readUInt16LE(46), count: file.readUInt16LE(48) };
  return table(file, headers).map((header) => ({
    name: header.readUInt32LE(0),
    type: header.readUInt32LE(4),
    flags: header.readUInt32LE(8),
    address: header.readUInt32LE(12),
    offset: header.readUInt32LE(16),
    size: header.readUInt32LE(20),
    link: header.readUInt32LE(24),
  }));
}

function text(file, at) {
  return file.toString('latin1', at, file.indexOf(0, at));
}

function sections(file) {
  const headers = sectionHeaders(file);
  const names = headers[file.readUInt16LE(50)].offset;
  return headers
    .filter((header) => header.flags & ALLOCATED && header.size > 0)
    .map(({ name, type, address, size }) => ({
      name: text(file, names + name), address, size, stored: type !== NO_BITS,
    }));
}

/** Every section of a file with its bytes, debug information too. */
export function sectionContents(file) {
  const headers = sectionHeaders(file);
  const names = headers[file.readUInt16LE(50)].offset;
  return headers.map(({ name, type, offset, size }) => ({
    name: text(file, names + name),
    bytes: file.subarray(offset, offset + (type === NO_BITS ? 0 : size)),
  }));
}

function symbols(file, kind) {
  const headers = sectionHeaders(file);
  const all = headers.find((header) => header.type === SYMBOL_TABLE);
  if (!all) return [];
  const names = headers[all.link].offset;
  return table(file, { at: all.offset, entry: 16, count: all.size / 16 })
    .filter((symbol) => (symbol[12] & 0xf) === kind)
    .map((symbol) => ({
      name: text(file, names + symbol.readUInt32LE(0)),
      // A function's lowest bit says that it is Thumb code.
      address: symbol.readUInt32LE(4) & (kind === FUNCTION ? ~1 : ~0),
      size: symbol.readUInt32LE(8),
    }));
}

/** `0x10000a3c (the function's name)`, as far as the image tells. */
export function describeAddress(elf, address) {
  const inside = elf.functions.find((f) => address >= f.address && address < f.address + f.size);
  return `0x${address.toString(16)}${inside ? ` (${inside.name})` : ''}`;
}
