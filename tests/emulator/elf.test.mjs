import assert from 'node:assert/strict';
import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { differing } from './compare.mjs';
import { readElf, sectionContents } from './elf.mjs';
import { built } from './testing/bench.mjs';

test('initialised RAM is loaded where it is stored, in flash', () => {
  const file = Buffer.alloc(52 + 32 + 4 + 40);
  file.writeUInt32BE(0x7f454c46, 0);
  file.set([1, 1], 4);
  file.writeUInt32LE(52, 28); // program headers
  file.writeUInt16LE(32, 42);
  file.writeUInt16LE(1, 44);
  [1, 84, 0x20000000, 0x10001000, 4, 8].forEach((word, i) => file.writeUInt32LE(word, 52 + 4 * i));
  file.set([1, 2, 3, 4], 84);
  file.writeUInt32LE(88, 32); // one empty section
  file.writeUInt16LE(40, 46);
  file.writeUInt16LE(1, 48);
  const path = join(tmpdir(), `runproof-${process.pid}.elf`);
  writeFileSync(path, file);
  const [{ address, bytes }] = readElf(path).segments;
  rmSync(path);
  assert.equal(address, 0x10001000);
  assert.deepEqual([...bytes], [1, 2, 3, 4]);
});

test('what is no image is told', () => {
  assert.throws(() => readElf(fileURLToPath(import.meta.url)), /not a 32-bit little-endian ELF/);
});

test('the sections are told in which two builds differ', () => {
  const one = readFileSync(built('runproof-rp2040.elf'));
  const other = Buffer.from(one);
  const { bytes } = sectionContents(other).find(({ name }) => name === '.rodata');
  bytes[4] ^= 1;
  assert.deepEqual(differing(one, one), []);
  assert.deepEqual(differing(one, other), ['.rodata']);
});
