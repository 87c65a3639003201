// Writes the image as UF2, the file that the chip's boot ROM takes: 512-byte blocks, each with a page of flash.
// Sources: the UF2 specification, and the RP2040 data sheet, "UF2 Format Details".
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { readElf } from './elf.mjs';

const BLOCK_BYTES = 512;
/** The boot ROM takes no other payload than a page of flash. */
const PAGE_BYTES = 256;
const START = [0x0a324655, 0x9e5d5157], END = 0x0ab16f30;
const FAMILY_IS_TOLD = 0x2000, RP2040_FAMILY = 0xe48bff56;
const PAYLOAD_AT = 32;

/** Segments as `readElf` gives them; what a page has no bytes for stays zero. */
export function uf2(segments) {
  const pages = [...pagesOf(segments)].sort(([a], [b]) => a - b);
  return Buffer.concat(pages.map(([address, page], number) => block(address, page, number, pages.length)));
}

function pagesOf(segments) {
  const pages = new Map();
  for (const { address, bytes } of segments) {
    bytes.forEach((byte, i) => {
      const at = address + i, start = at - (at % PAGE_BYTES);
      if (!pages.has(start)) pages.set(start, Buffer.alloc(PAGE_BYTES));
      pages.get(start)[at - start] = byte;
    });
  }
  return pages;
}

function block(address, page, number, blocks) {
  const block = Buffer.alloc(BLOCK_BYTES);
  [...START, FAMILY_IS_TOLD, address, PAGE_BYTES, number, blocks, RP2040_FAMILY]
    .forEach((word, i) => block.writeUInt32LE(word, 4 * i));
  block.set(page, PAYLOAD_AT);
  block.writeUInt32LE(END, BLOCK_BYTES - 4);
  return block;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const [elf, out] = process.argv.slice(2);
  writeFileSync(out, uf2(readElf(elf).segments));
}
