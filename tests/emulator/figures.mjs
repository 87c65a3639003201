// Prints how much flash and RAM an image takes, from the headers of its sections.
import { fileURLToPath } from 'node:url';
import { readElf } from './elf.mjs';

const FLASH = { from: 0x10000000, bytes: 2 * 1024 * 1024 };
const RAM = { from: 0x20000000, bytes: 256 * 1024 };

/** What starts life in flash and is copied to RAM counts in both. */
export function figures({ sections, segments }) {
  const inside = (memory) => ({ address }) => address >= memory.from && address < memory.from + memory.bytes;
  const sum = (list, size) => list.reduce((total, one) => total + size(one), 0);
  return {
    flashBytes: sum(segments.filter(inside(FLASH)), ({ bytes }) => bytes.length),
    ramBytes: sum(sections.filter(inside(RAM)), ({ size }) => size),
  };
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const { flashBytes, ramBytes } = figures(readElf(process.argv[2]));
  const line = (name, used, memory) => `${name} ${used} bytes of ${memory.bytes} (${((100 * used) / memory.bytes).toFixed(1)} %)`;
  console.log(line('flash', flashBytes, FLASH));
  console.log(`${line('RAM', ramBytes, RAM)}, without the stack`);
}
