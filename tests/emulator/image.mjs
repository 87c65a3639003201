// The image as it is shipped: the UF2 goes into flash as the boot ROM would put it; the ELF beside it only names addresses.
import { existsSync, readFileSync } from 'node:fs';
import { describeAddress, readElf } from './elf.mjs';

/** `pages` as {address, bytes}, and where what lies: `symbol(name)`, `describe(address)`. */
export function readImage(uf2Path) {
  const pages = pagesOf(readFileSync(uf2Path), uf2Path);
  const elfPath = uf2Path.replace(/\.uf2$/, '.elf');
  if (!existsSync(elfPath)) throw new Error(`${elfPath} is missing beside its UF2: run tests/image`);
  const elf = readElf(elfPath);
  if (!holds(pages, elf.segments)) throw new Error(`${elfPath} is not what ${uf2Path} was made of: run tests/image`);
  return {
    pages,
    describe: (address) => describeAddress(elf, address),
    symbol(name) {
      const found = [...elf.functions, ...elf.objects].find((symbol) => symbol.name === name);
      if (!found) throw new Error(`the image has no symbol ${name}`);
      return found;
    },
  };
}

/** What the boot ROM takes: blocks with both starts, the end, and its own family; the rest it passes over. */
export function pagesOf(file, name) {
  if (file.length === 0 || file.length % 512 !== 0) throw new Error(`${name} is no UF2 file: ${file.length} bytes are no whole blocks`);
  const pages = [];
  for (let at = 0; at < file.length; at += 512) {
    const [start, second, flags, address, length, number, blocks, family] =
      new Uint32Array(file.buffer.slice(file.byteOffset + at, file.byteOffset + at + 32));
    const ours = start === 0x0a324655 && second === 0x9e5d5157 && flags === 0x2000 && family === 0xe48bff56;
    if (!ours || length !== 256 || address % 256 !== 0) throw new Error(`${name}: block ${at / 512} is none that an RP2040 takes`);
    if (file.readUInt32LE(at + 508) !== 0x0ab16f30) throw new Error(`${name}: block ${at / 512} has no end`);
    if (number !== at / 512 || blocks !== file.length / 512) throw new Error(`${name}: block ${at / 512} says that it is ${number} of ${blocks}`);
    pages.push({ address, bytes: file.subarray(at + 32, at + 288) });
  }
  return pages;
}

function holds(pages, segments) {
  const held = new Map(pages.map(({ address, bytes }) => [address, bytes]));
  return segments.every(({ address, bytes }) => bytes.every((byte, i) => held.get((address + i) & ~255)?.[(address + i) & 255] === byte));
}
