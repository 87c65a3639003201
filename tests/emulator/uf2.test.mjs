import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { test } from 'node:test';
import { readElf } from './elf.mjs';
import { pagesOf, readImage } from './image.mjs';
import { built } from './testing/bench.mjs';
import { uf2 } from './uf2.mjs';

const TWO_PAGES = [
  { address: 0x100001f0, bytes: Buffer.alloc(0x20, 7) },
  { address: 0x10000000, bytes: Buffer.alloc(0x10, 9) },
];

test('each page that holds a byte is one block, in order, the rest of it zero', () => {
  const pages = pagesOf(uf2(TWO_PAGES), 'two');
  assert.deepEqual(pages.map(({ address }) => address), [0x10000000, 0x10000100, 0x10000200]);
  assert.deepEqual([...pages[1].bytes], [...Array(0xf0).fill(0), ...Array(0x10).fill(7)]);
  assert.deepEqual([...pages[2].bytes.subarray(0, 0x11)], [...Array(0x10).fill(7), 0]);
});

test('the first block is, byte for byte, what the specification draws', () => {
  const block = uf2(TWO_PAGES).subarray(0, 512);
  const head = '5546320a' + '57515d9e' + '00200000' + '00000010' + '00010000' + '00000000' + '03000000' + '56ff8be4';
  assert.equal(block.subarray(0, 32).toString('hex'), head);
  assert.equal(block.subarray(288, 508).findIndex((byte) => byte !== 0), -1);
  assert.equal(block.subarray(508).toString('hex'), '306fb10a');
});

test('the shipped file holds the built image and nothing else, by a reader in another language', () => {
  const reader = `
import struct, sys
data = open(sys.argv[1], "rb").read()
for at in range(0, len(data), 512):
    words = struct.unpack_from("<8I476s1I", data, at)
    assert words[0] == 0x0A324655 and words[1] == 0x9E5D5157 and words[9] == 0x0AB16F30
    assert words[2] == 0x2000 and words[7] == 0xE48BFF56 and words[6] == len(data) // 512 and words[5] == at // 512
    print(words[3], words[8][:words[4]].hex())
`;
  const read = execFileSync('python3', ['-c', reader, built('runproof-rp2040.uf2')], { encoding: 'utf8', maxBuffer: 1 << 24 });
  const held = new Map(read.trim().split('\n').flatMap((line) => {
    const [address, hex] = line.split(' ');
    return [...Buffer.from(hex, 'hex')].map((byte, i) => [Number(address) + i, byte]);
  }));
  for (const { address, bytes } of readElf(built('runproof-rp2040.elf')).segments) {
    bytes.forEach((byte, i) => {
      if (held.get(address + i) !== byte) assert.fail(`0x${(address + i).toString(16)} is not the image's`);
      held.delete(address + i);
    });
  }
  assert.ok([...held.values()].every((byte) => byte === 0), 'padding is zero');
});

for (const [what, change] of [
  ['a block is cut short', (file) => file.subarray(0, 1000)],
  ['the family is another chip', (file) => (file.writeUInt32LE(1, 28), file)],
  ['a block lost its end', (file) => (file.writeUInt32LE(0, 508), file)],
  ['a block is missing', (file) => file.subarray(512)],
]) {
  test(`a file is refused when ${what}`, () => {
    assert.throws(() => pagesOf(change(uf2(TWO_PAGES)), 'changed'), /changed/);
  });
}

test('an ELF of another build is not taken for the UF2 beside it', () => {
  const folder = mkdtempSync(join(tmpdir(), 'runproof-'));
  const file = readFileSync(built('runproof-rp2040.uf2'));
  file[512 + 40] ^= 1;
  writeFileSync(join(folder, 'a.uf2'), file);
  writeFileSync(join(folder, 'a.elf'), readFileSync(built('runproof-rp2040.elf')));
  assert.throws(() => readImage(join(folder, 'a.uf2')), /not what .* was made of/);
  rmSync(folder, { recursive: true });
});
